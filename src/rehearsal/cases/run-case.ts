import type { Traces } from "../traces.ts";
import { Trial } from "../trial.ts";
import type { RunRecord } from "../run-record.ts";
import { CASE_BEGINS, type CaseSetup, CaseWatch } from "./case-watch.ts";
import type { SyntheticCase } from "./synthetic-case.ts";

/** Plays a case to its end. @param setup its rules with the hidden ones */
export function runCase(
  title: string,
  synthetic: SyntheticCase,
  setup: CaseSetup & { readonly traces?: Traces },
): RunRecord {
  const watch = new CaseWatch(synthetic, setup);
  const trial = new Trial(watch, setup.boat.units, setup.traces ?? null);
  watch.play(() => {
    trial.collect();
    trial.look();
  });
  trial.collect();
  const [begins, ends] = [CASE_BEGINS, CASE_BEGINS + synthetic.lasting];
  const parts = [{ title, source: 0, begins, ends }];
  return trial.record({ parts, begins, ends, endedEarly: [] });
}
