import { z } from "zod";
import type { Proof } from "../../alarms/proof.ts";
import { type Clock, isCredible } from "../../ground/clock.ts";
import { HOUR, type Micros } from "../../ground/time.ts";
import type { Store } from "../../store/store.ts";
import type { Watch } from "../../watch.ts";
import type { Outlet } from "./gateway.ts";

z.config({ jitless: true });

/** Its key among the facts of the store: since when alarms are watched here. */
const SINCE = "proofs-since";
const EVERY: Micros = HOUR;

export interface ProofRegisterParts {
  readonly watch: Watch;
  readonly store: Store;
  readonly clock: Clock;
  readonly say: (sentence: string) => void;
}

export interface ProofRegister extends Outlet {
  /** Those that want to be tried first come first; none before the clock was ever set. */
  proofs(): readonly Proof[];
}

/**
 * Once an hour asks which alarms were not made to sound for a season, and has the built-in caution
 * `proof-due` say so. What was never heard is due a season after the watch began for the first time;
 * while the clock is not set nothing is.
 */
export async function openProofRegister(parts: ProofRegisterParts): Promise<ProofRegister> {
  const { watch, store, clock, say } = parts;
  const kept = z.coerce.number().int().min(1)
    .safeParse((await store.documents("fact")).get(SINCE));
  let since = kept.success ? kept.data : undefined;
  let due = -Infinity;
  let said = "";
  return {
    proofs: () => since === undefined ? [] : watch.alarms.proofs(since),
    turn() {
      const wall = clock.wall();
      if (clock.steady() < due || !isCredible(wall)) return;
      due = clock.steady() + EVERY;
      if (since === undefined) {
        since = wall;
        store.commit({ documents: [{ kind: "fact", key: SINCE, text: String(wall) }] });
      }
      const wanted = watch.alarms.proofs(since).filter((proof) => wall > proof.due);
      watch.noteProofsDue(wanted.length);
      const words = wanted.map(({ title, subject }) => `${title}, ${subject}`).join("; ");
      if (words !== "" && words !== said) say(`Not heard for half a year, so try them: ${words}.`);
      said = words;
    },
    stop: () => Promise.resolve(),
  };
}
