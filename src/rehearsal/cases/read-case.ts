import { isOn, isSameWord, isSwitchWord, placeOfName } from "../../alarms/rules/signal-name.ts";
import { Reason } from "../../boat/quality.ts";
import type { SignalFacts } from "../../boat/signal-table.ts";
import type { Problem } from "../../ground/problem.ts";
import { checkWith } from "../../ground/schema-problems.ts";
import { nearestName } from "../../ground/spelling.ts";
import type { Micros } from "../../ground/time.ts";
import { readYaml, type YamlFile } from "../../ground/yaml-file.ts";
import type { Misread } from "../../units/misread.ts";
import { parseDifference, parseQuantity, valueIn } from "../../units/quantity.ts";
import { conversion, scaleOf } from "../../units/scale.ts";
import { unknownSubject } from "../unknown-subject.ts";
import { ownerOf as expectationOwner } from "../expectations/expectation-owner.ts";
import type { Expectations } from "../expectations/expectations.ts";
import { expectationsOf, type KnownNames } from "../expectations/read-expectations.ts";
import {
  caseFileSchema,
  saidLength,
  soundSignals,
  type Written,
  type WrittenStep,
} from "./case-schema.ts";
import type { Step } from "./signal-course.ts";
import { SignalKinds } from "./signal-kinds.ts";
import type { CaseSignal, SyntheticCase } from "./synthetic-case.ts";

/** Reads `NAME.case.yaml`; all problems come at once. */
export function readCase(
  file: string,
  text: string,
  known: KnownNames,
): { value: SyntheticCase | undefined; problems: Problem[] } {
  const { document, problems: faults, wellFormed } = readYaml(file, text);
  if (!wellFormed) return { value: undefined, problems: faults };
  const shape = checkWith(caseFileSchema, document, ownerOf).problems;
  const reader = new SignalReader(document, new SignalKinds(known.boat), known);
  const signals = soundSignals(document.value).flatMap(([name, steps]) =>
    reader.signal(name, steps) ?? []
  );
  reader.refuseTwice(signals);
  const before = [...faults, ...shape, ...reader.problems];
  const { value: expectations, problems } = expectationsOf(document, known, before);
  if (expectations === undefined) return { value: undefined, problems };
  const lasting = saidLength(document.value) ?? lastMoment(signals, expectations);
  return { value: { signals, expectations, lasting }, problems };
}

const BAD_WORDS: Readonly<Record<string, number>> = {
  "not-available": Reason.notAvailable,
  "out-of-range": Reason.outOfRange,
};

class SignalReader {
  readonly problems: Problem[] = [];

  constructor(
    readonly document: YamlFile,
    readonly kinds: SignalKinds,
    readonly known: KnownNames,
  ) {}

  signal(
    name: string,
    written: readonly (readonly [at: number, step: WrittenStep])[],
  ): CaseSignal | undefined {
    const kind = this.kinds.of(name);
    if (kind === undefined) {
      this.#unknown(name);
      return undefined;
    }
    const problem = unknownSubject(this.known.boat, kind.facts.group, kind.facts.subject);
    if (problem !== null) {
      const place = this.document.place(["signals", name], "key");
      this.problems.push({ kind: "unknown-name", place, ...problem });
    }
    const steps: Step[] = [];
    for (const [at, step] of written) {
      const path = ["signals", name, at];
      const before = steps.at(-1);
      if (before !== undefined && step.at < before.at) {
        this.#conflict(
          [...path, "at"],
          "this step comes before the one above it",
          "put them in order",
        );
      }
      const read = this.#step(step, kind.facts, path);
      if (read !== undefined) steps.push(read);
    }
    return { facts: kind.facts, period: kind.period, steps };
  }

  /** A condition is worked out from its engine's speed: a case cannot say both. */
  refuseTwice(signals: readonly CaseSignal[]): void {
    const names = new Set(signals.map(({ facts }) => facts.name));
    for (const { facts } of signals) {
      const { group, subject, quantity, name } = facts;
      if (quantity !== "condition" || !names.has(`${group}/${subject}/speed`)) continue;
      this.#conflict(
        ["signals", name],
        `"${name}" is worked out from the speed that is here too`,
        "take one of the two away",
        "key",
      );
    }
  }

  #step(
    step: WrittenStep,
    facts: SignalFacts,
    path: readonly PropertyKey[],
  ): Step | undefined {
    const { at, value, ramp, gap, noise, lasting } = step;
    const kinds = [value, ramp, gap, noise].filter((part) => part !== undefined);
    if (kinds.length !== 1) {
      this.#conflict(
        path,
        kinds.length === 0 ? "this step does nothing" : "this step does more than one thing",
        "say exactly one of value, ramp, gap or noise",
      );
      return undefined;
    }
    if ((ramp !== undefined) !== (lasting !== undefined)) {
      this.#conflict(
        path,
        ramp === undefined
          ? "lasting is only for a ramp"
          : "this ramp does not say how long it takes",
        ramp === undefined ? "a gap gives its length itself" : "write lasting: 10 s beside it",
      );
      return undefined;
    }
    if (gap !== undefined) return { kind: "gap", at, lasting: gap };
    if (noise !== undefined) {
      const size = this.#difference(noise, facts, [...path, "noise"]);
      return size === undefined ? undefined : { kind: "noise", at, size, seed: step.seed ?? 1 };
    }
    if (ramp !== undefined) {
      const to = this.#number(ramp, facts, [...path, "ramp"]);
      return to === undefined ? undefined : { kind: "ramp", at, to, lasting: lasting ?? 0 };
    }
    return value === undefined ? undefined : this.#value(at, value, facts, [...path, "value"]);
  }

  #value(
    at: Micros,
    written: Written,
    facts: SignalFacts,
    path: readonly PropertyKey[],
  ): Step | undefined {
    const reason = BAD_WORDS[String(written)];
    if (reason !== undefined) return { kind: "bad", at, reason };
    const value = facts.words === null
      ? this.#number(written, facts, path)
      : this.#word(written, facts, facts.words, path);
    return value === undefined ? undefined : { kind: "value", at, value };
  }

  #word(
    written: Written,
    { name }: SignalFacts,
    words: ReadonlyMap<number, string>,
    path: readonly PropertyKey[],
  ): number | undefined {
    const word = typeof written === "boolean" ? written ? "on" : "off" : String(written);
    const found = [...words].find(([, one]) => isSameWord(one, word));
    if (found !== undefined) return found[0];
    const nearest = nearestName(word, words.values());
    this.problems.push({
      kind: "unknown-name",
      place: this.document.place(path, "value"),
      found: word,
      owner: name,
      ...(nearest === undefined ? {} : { nearest }),
    });
    return undefined;
  }

  /** In the signal's unit. */
  #number(
    written: Written,
    facts: SignalFacts,
    path: readonly PropertyKey[],
  ): number | undefined {
    const { unit } = facts;
    if (unit === "") return this.#refuse(path, "a word, since this signal reads words");
    if (unit === "1") {
      const word = typeof written === "boolean" ? written ? "on" : "off" : String(written);
      if (isSwitchWord(word)) return isOn(word) ? 1 : 0;
      return typeof written === "number" ? written : this.#refuse(path, "on or off");
    }
    const read = parseQuantity(String(written), scaleOf(unit).dimension);
    return read.ok ? valueIn(read, unit) : this.#misread(read, path);
  }

  #difference(
    written: Written,
    { unit }: SignalFacts,
    path: readonly PropertyKey[],
  ): number | undefined {
    if (unit === "" || unit === "1") return this.#refuse(path, "no noise on a word or a bit");
    const read = parseDifference(String(written), scaleOf(unit).dimension);
    if (!read.ok) return this.#misread(read, path);
    if (read.code === "") return undefined;
    return read.value * conversion(scaleOf(read.code), scaleOf(unit)).factor;
  }

  #misread(read: Misread, path: readonly PropertyKey[]): undefined {
    this.problems.push({
      kind: "wrong-value",
      place: this.document.place(path, "value"),
      found: read.found,
      expected: read.expected,
      ...(read.nearest === undefined ? {} : { nearest: read.nearest }),
    });
  }

  #refuse(path: readonly PropertyKey[], expected: string): undefined {
    this.problems.push({
      kind: "wrong-value",
      place: this.document.place(path, "value"),
      found: this.document.written(path),
      expected,
    });
  }

  #conflict(
    path: readonly PropertyKey[],
    found: string,
    remedy: string,
    part: "key" | "value" = "value",
  ): void {
    this.problems.push({
      kind: "conflict",
      place: this.document.place(path, part),
      found,
      remedy,
    });
  }

  #unknown(name: string): void {
    const { group, quantity } = placeOfName(name);
    const known = this.known.catalogue.quantitiesOf(group);
    const nearest = nearestName(quantity, known);
    this.problems.push({
      kind: "unknown-name",
      place: this.document.place(["signals", name], "key"),
      found: known.length === 0 ? name : quantity,
      owner: known.length === 0 ? "this version" : `the group ${group}`,
      ...(nearest === undefined ? {} : { nearest }),
    });
  }
}

/** The last moment of which a case speaks, since its start. */
function lastMoment(signals: readonly CaseSignal[], { alarms }: Expectations): Micros {
  const steps = signals.flatMap(({ steps }) =>
    steps.map((step) => step.at + ("lasting" in step ? step.lasting : 0))
  );
  const windows = alarms.flatMap(({ raised, returned }) => [raised.to, returned?.to])
    .map((time) => time?.kind === "since-start" ? time.offset : 0);
  return Math.max(0, ...steps, ...windows);
}

function ownerOf(path: readonly PropertyKey[]): string {
  if (path[0] === "signals" && path.length > 2) return "a step";
  return path.length === 0 ? "a synthetic case" : expectationOwner(path);
}
