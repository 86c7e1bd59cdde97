import type { SurveySender, SurveySignal } from "./report-schema.ts";
import { thingOf } from "./status-bits.ts";

/**
 * Signals of an earlier survey whose names are not known now, by what they are called now: another
 * boat file names things otherwise. Known by who sends them and what they are; of several that are
 * alike in both, each is taken for the one in its place in the order of names.
 * @param then those whose names are not known now
 * @param now those whose names were not known then
 */
export function renamedSignals(
  then: readonly SurveySignal[],
  now: readonly SurveySignal[],
): ReadonlyMap<string, SurveySignal> {
  const renamed = new Map<string, SurveySignal>();
  const free = new Set(inOrder(now));
  for (const signal of inOrder(then)) {
    const found = [...free].find((one) => isAlike(signal, one));
    if (found === undefined) continue;
    free.delete(found);
    renamed.set(signal.name, found);
  }
  return renamed;
}

function inOrder(signals: readonly SurveySignal[]): SurveySignal[] {
  return signals.toSorted((a, b) => a.name.localeCompare(b.name, "en", { numeric: true }));
}

function isAlike(then: SurveySignal, now: SurveySignal): boolean {
  const [quantity, other] = [then, now].map(({ name }) => name.slice(thingOf(name).length + 1));
  return isSameQuantity(quantity, other) && then.unit === now.unit &&
    then.senders.some((sender) => now.senders.some((one) => isSameSender(sender, one)));
}

/** The temperature of an exhaust is `temperature`, and `exhaust-temperature` of its engine. */
function isSameQuantity(a: string, b: string): boolean {
  return a === b || a.endsWith(`-${b}`) || b.endsWith(`-${a}`);
}

/** A NAME is for life; who never told one is known only by bus and address. */
export function isSameSender(
  then: Omit<SurveySender, "address"> & { readonly address: number | null },
  now: Omit<SurveySender, "address"> & { readonly address: number | null },
): boolean {
  if (then.name !== null && now.name !== null) return then.name === now.name;
  return then.bus === now.bus && then.address === now.address;
}
