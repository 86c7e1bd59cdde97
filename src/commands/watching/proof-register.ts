import { z } from "zod";
import { type Proof, SEASON } from "../../alarms/proof.ts";
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

/**
 * Once an hour asks which alarms were not made to sound for a season, and has the built-in caution
 * `proof-due` say so. What was never heard is due a season after the watch began for the first time;
 * while the clock is not set nothing is.
 */
export async function openProofRegister(parts: ProofRegisterParts): Promise<Outlet> {
  const { watch, store, clock, say } = parts;
  const kept = z.coerce.number().int().min(1)
    .safeParse((await store.documents("fact")).get(SINCE));
  let since = kept.success ? kept.data : undefined;
  let due = -Infinity;
  let said = "";
  return {
    turn() {
      const wall = clock.wall();
      if (clock.steady() < due || !isCredible(wall)) return;
      due = clock.steady() + EVERY;
      if (since === undefined) {
        since = wall;
        store.commit({ documents: [{ kind: "fact", key: SINCE, text: String(wall) }] });
      }
      const wanted = dueProofs(watch.alarms.proofs(watch.timeline.now), since, wall);
      watch.noteProofsDue(wanted.length);
      const words = wanted.map(({ title, subject }) => `${title}, ${subject}`).join("; ");
      if (words !== "" && words !== said) say(`Not heard for half a year, so try them: ${words}.`);
      said = words;
    },
    stop: () => Promise.resolve(),
  };
}

/**
 * Those of which a season has passed since they sounded, or since the watch began: what sounded
 * before the clock was set did so after that.
 */
export function dueProofs(proofs: readonly Proof[], since: Micros, wall: Micros): Proof[] {
  return proofs.filter(({ sounded }) => {
    const last = sounded !== null && isCredible(sounded) ? sounded : since;
    return wall - last > SEASON;
  });
}
