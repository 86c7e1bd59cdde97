import { busUnnamedRule } from "../alarms/compile/bus-unnamed.ts";
import { NOT_WATCHED } from "../alarms/compile/not-watched.ts";
import { twoSendersRule } from "../alarms/compile/two-senders.ts";
import type { Rule } from "../alarms/rules/rule.ts";

/** An alarm as its changes name it. */
interface Named {
  readonly tag: string;
  readonly subject: string;
}

/** What alarms are called in a sentence, the built-in cautions too. */
export class AlarmNames {
  readonly #titles: ReadonlyMap<string, string>;

  constructor(rules: readonly Rule[]) {
    this.#titles = new Map(
      [...rules, twoSendersRule(""), busUnnamedRule("")].map(({ tag, title }) => [tag, title]),
    );
  }

  /** `Low oil pressure`; the tag itself where nothing has it. */
  title(tag: string): string {
    return tag === NOT_WATCHED ? "Not watched" : this.#titles.get(tag) ?? tag;
  }

  /** `Low oil pressure, port`; `Not watched: Low oil pressure, port`. */
  name(alarm: Named): string {
    const { title, subject } = this.#parts(alarm);
    return subject === "" ? title : `${title}, ${subject}`;
  }

  /** As a sentence begins: `'Low oil pressure', port,`. */
  quoted(alarm: Named): string {
    const { title, subject } = this.#parts(alarm);
    return subject === "" ? `'${title}'` : `'${title}', ${subject},`;
  }

  #parts({ tag, subject }: Named): { readonly title: string; readonly subject: string } {
    const about = tag === NOT_WATCHED ? subject.split("--") : [];
    return about.length === 2
      ? { title: `Not watched: ${this.title(about[0])}`, subject: about[1] }
      : { title: this.title(tag), subject };
  }
}
