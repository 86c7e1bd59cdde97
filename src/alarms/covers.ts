import type { Instance } from "./compile/instance.ts";

const NOTHING: readonly number[] = [];
const UNRANKED = -1;

/**
 * Which alarms need not be raised while another one is present: the tags that its rule covers, of
 * the same subject, of what the boat file relates to it, of one of a pair, or of the boat as a whole.
 */
export class Covers {
  /** By alarm: those that it covers. */
  readonly #covered: (readonly number[])[];
  /** By alarm: those that cover it. */
  readonly #covering: number[][];
  /** By alarm: how many of those that cover it are present. */
  readonly #present: Int32Array;
  readonly #isPresent: Uint8Array;
  /** By alarm: those that cover come before what they cover. */
  readonly #ranks: Int32Array;
  readonly #hasAny: boolean;

  constructor(instances: readonly Instance[]) {
    const wanted = new Set(instances.flatMap((instance) => instance.rule.covers));
    const byTag = new Map<string, number[]>();
    instances.forEach(({ rule: { tag } }, i) => {
      if (!wanted.has(tag)) return;
      const known = byTag.get(tag);
      if (known === undefined) byTag.set(tag, [i]);
      else known.push(i);
    });
    this.#covered = instances.map((instance, i) =>
      instance.rule.covers.length === 0
        ? NOTHING
        : instance.rule.covers.flatMap((tag) => byTag.get(tag) ?? [])
          .filter((other) => other !== i && isAbout(instance, instances[other]))
    );
    this.#covering = instances.map(() => []);
    this.#covered.forEach((covered, i) =>
      covered.forEach((other) => this.#covering[other].push(i))
    );
    this.#hasAny = this.#covered.some((covered) => covered.length > 0);
    this.#present = new Int32Array(instances.length);
    this.#isPresent = new Uint8Array(instances.length);
    this.#ranks = new Int32Array(instances.length).fill(UNRANKED);
    for (let i = 0; i < instances.length; i++) this.#rank(i);
  }

  isCovered(i: number): boolean {
    return this.#present[i] > 0;
  }

  /** Those that cover an alarm. */
  coveringOf(i: number): readonly number[] {
    return this.#covering[i];
  }

  /** Takes note of whether an alarm is present; the alarms that this covers or uncovers. */
  note(i: number, isPresent: boolean): readonly number[] {
    const covered = this.#covered[i];
    if (covered.length === 0 || (this.#isPresent[i] === 1) === isPresent) return NOTHING;
    this.#isPresent[i] = isPresent ? 1 : 0;
    const step = isPresent ? 1 : -1;
    return covered.filter((other) => {
      this.#present[other] += step;
      return this.#present[other] === (isPresent ? 1 : 0);
    });
  }

  /** Sorts alarms that changed at one instant so that those that cover come first. */
  sort(alarms: Int32Array): void {
    if (this.#hasAny) alarms.sort((a, b) => this.#ranks[a] - this.#ranks[b] || a - b);
  }

  /** Rules that cover each other in a circle end at some rank, which one does not matter. */
  #rank(i: number): number {
    if (this.#ranks[i] !== UNRANKED) return this.#ranks[i];
    this.#ranks[i] = 0;
    let rank = 0;
    for (const other of this.#covering[i]) rank = Math.max(rank, this.#rank(other) + 1);
    return this.#ranks[i] = rank;
  }
}

function isAbout(one: Instance, other: Instance): boolean {
  if (one.rule.each === null || other.rule.each === null) return true;
  if (one.twins !== null || other.twins !== null) {
    return enginesOf(one).some((engine) => enginesOf(other).includes(engine));
  }
  if (one.rule.each === other.rule.each) return one.subject === other.subject;
  return isRelated(one, other) || isRelated(other, one) || one.subject === other.subject;
}

function enginesOf({ twins, subject }: Instance): readonly string[] {
  return twins ?? [subject];
}

function isRelated({ described }: Instance, { rule, subject }: Instance): boolean {
  return rule.each !== null && described?.relations[rule.each] === subject;
}
