import type { SignalTable } from "../../boat/signal-table.ts";
import type { Rule } from "../rules/rule.ts";
import { groupOfEach } from "../rules/signal-name.ts";
import { builtInAbout } from "./built-in.ts";
import type { Instance } from "./instance.ts";

const NOTHING: readonly number[] = [];

/** Sees that a subject or a signal has come for which rules waited. */
export class NewGround {
  /** By signal: the instances that miss it. */
  readonly #waiting = new Map<string, number[]>();
  readonly #groups: readonly { readonly name: string; readonly size: number }[];
  #seenSubjects: number;
  #seenSignals: number;

  constructor(
    rules: readonly Rule[],
    instances: readonly Instance[],
    readonly table: SignalTable,
  ) {
    const groups = new Set(rules.flatMap(({ each }) => each === null ? [] : [groupOfEach(each)]));
    this.#groups = [...groups].map((name) => ({ name, size: table.subjectsOf(name).length }));
    this.#seenSubjects = table.subjectCount;
    this.#seenSignals = table.count;
    instances.forEach(({ missing }, i) => {
      for (const name of missing) {
        const known = this.#waiting.get(name);
        if (known === undefined) this.#waiting.set(name, [i]);
        else known.push(i);
      }
    });
  }

  /** Whether anything has come since the last look; asked for each message. */
  get hasCome(): boolean {
    const { count, subjectCount } = this.table;
    return count !== this.#seenSignals || subjectCount !== this.#seenSubjects;
  }

  /** True when there are more alarms now: the rules want to be unfolded anew. */
  hasSubjects(): boolean {
    if (this.table.subjectCount !== this.#seenSubjects) {
      this.#seenSubjects = this.table.subjectCount;
      const hasGrown = this.#groups.some(({ name, size }) =>
        this.table.subjectsOf(name).length !== size
      );
      if (hasGrown) return true;
    }
    const { count, facts } = this.table;
    for (let signal = this.#seenSignals; signal < count; signal++) {
      if (builtInAbout(facts[signal]) !== null) return true;
    }
    return false;
  }

  /** The instances for which a signal has come since the last call. */
  takeInstances(): readonly number[] {
    const { count, facts } = this.table;
    if (count === this.#seenSignals) return NOTHING;
    const instances = new Set<number>();
    for (; this.#seenSignals < count; this.#seenSignals++) {
      for (const i of this.#waiting.get(facts[this.#seenSignals].name) ?? []) instances.add(i);
    }
    return [...instances];
  }
}
