import { NOT_WATCHED } from "../alarms/compile/not-watched.ts";
import { twoSendersRule } from "../alarms/compile/two-senders.ts";
import type { Rule } from "../alarms/rules/rule.ts";

/** What alarms are called in a sentence, the built-in cautions too. */
export class AlarmNames {
  readonly #titles: ReadonlyMap<string, string>;

  constructor(rules: readonly Rule[]) {
    this.#titles = new Map(
      [...rules, twoSendersRule("")].map(({ tag, title }) => [tag, title]),
    );
  }

  /** `Low oil pressure`; the tag itself where nothing has it. */
  title(tag: string): string {
    return tag === NOT_WATCHED ? "Not watched" : this.#titles.get(tag) ?? tag;
  }

  /** `Low oil pressure, port`; `Not watched: Low oil pressure, port`. */
  name({ tag, subject }: { readonly tag: string; readonly subject: string }): string {
    const about = tag === NOT_WATCHED ? subject.split("--") : [];
    if (about.length === 2) return `Not watched: ${this.title(about[0])}, ${about[1]}`;
    return subject === "" ? this.title(tag) : `${this.title(tag)}, ${subject}`;
  }
}
