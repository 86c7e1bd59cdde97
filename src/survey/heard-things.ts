import type { HeardKey, Sender } from "../boat/subject-match.ts";
import type { Watch } from "../watch.ts";

/** Something of the boat that a sender speaks for: what a boat file would give a name. */
export interface HeardThing {
  readonly group: string;
  /** As it is called now, by number or by the boat file. */
  readonly subject: string;
  readonly isNamed: boolean;
  /** Told apart by address and not by instance. */
  readonly speaksJ1939: boolean;
  readonly key: HeardKey;
  readonly sender: Sender;
  /** Of a switch bank: the indicators that were heard. */
  readonly indicators: readonly number[];
}

/** Everything that was spoken for, once for each sender; whose messages count or not. */
export function heardThings({ signals: { binder } }: Watch): HeardThing[] {
  const things = new Map<string, HeardThing>();
  for (const [carrier, bound] of binder.bound.entries()) {
    if (bound === undefined || binder.carriers.table.carrierMessages[carrier] === 0) continue;
    const { entry, heard, sender, subject } = bound;
    if (entry.namedLike !== undefined || subject.tied !== undefined) continue;
    const identity = JSON.stringify([
      subject.group,
      sender.bus,
      heard,
      sender.name ?? sender.address,
    ]);
    if (things.has(identity)) continue;
    things.set(identity, {
      group: subject.group,
      subject: subject.name,
      isNamed: subject.described !== null,
      speaksJ1939: entry.by !== undefined,
      key: heard,
      sender,
      indicators: indicatorsOf(binder.carriers, carrier, entry.signals),
    });
  }
  return [...things.values()];
}

type Carriers = Watch["signals"]["binder"]["carriers"];

/** A bank's signals stand in slots in the order of its indicators. */
function indicatorsOf(
  { firstSlot, signal }: Carriers,
  carrier: number,
  signals: readonly { readonly indicator?: number }[],
): number[] {
  return signals.flatMap(({ indicator }, i) =>
    indicator !== undefined && signal[firstSlot[carrier] + i] >= 0 ? [indicator] : []
  );
}
