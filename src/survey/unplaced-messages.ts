import type { BusNames } from "../bus/bus-names.ts";
import type { Watch } from "../watch.ts";
import { sayWho } from "./device-words.ts";
import { paragraph } from "./paper.ts";
import type { SurveyReport, SurveyUnplaced } from "./report-schema.ts";
import { senderAt } from "./survey-devices.ts";

/** Kinds of message that came, are known, and of which nobody can say what they are about. */
export function unplacedMessages(watch: Watch, busNames: BusNames): SurveyUnplaced[] {
  const { columns, unbound } = watch.signals.binder;
  const found = new Map<string, SurveyUnplaced>();
  for (const { bus, pgn, source, why } of unbound) {
    // Where the owner names whose position counts, that of others is not missed.
    if (why === "not-counted") continue;
    const { title } = columns.rows[columns.rowOf(pgn)];
    const sender = senderAt({ watch, busNames }, bus, source);
    found.set(`${bus} ${source} ${pgn} ${why}`, { sender, pgn, title, why });
  }
  return [...found.values()];
}

const CAUSES: Readonly<Record<SurveyUnplaced["why"], string>> = {
  "no-instance": "It gives no instance or kind, or one that is not known here: look at the " +
    "device's settings.",
  "undecided": "The boat file tells devices apart there, and this one has not said who it is: " +
    "switch the network off and on while I listen.",
  "ambiguous": "Two things of the boat file fit it equally: name the device or the bus of each.",
  "too-many": "More things spoke than there is room for.",
};

/** One sentence of cause for all messages of a sender with the same. */
export function unplacedLines({ unplaced }: SurveyReport): string[] {
  const together = new Map<string, SurveyUnplaced[]>();
  for (const one of unplaced) {
    const key = JSON.stringify([one.sender.bus, one.sender.address, one.why]);
    together.set(key, [...together.get(key) ?? [], one]);
  }
  return [...together.values()].flatMap((group) => {
    const [{ sender, why }] = group;
    const messages = group.map(({ pgn, title }) => `${pgn} ${title}`).join(", ");
    return [
      ...paragraph(`${sayWho(sender)}: ${messages}: came, and makes no signal.`, 2),
      ...paragraph(CAUSES[why], 4),
    ];
  });
}
