import { detectorSchema } from "./indicators.ts";
import { engineSchema } from "./engines.ts";
import { networkSchema } from "./networks.ts";
import { batterySchema, chargerSchema } from "./power.ts";
import { tankSchema } from "./tanks.ts";

/** Words that a boat file can say of a subject, by its key; rules ask for them with `where`. */
export type SubjectWords = Readonly<Record<string, readonly string[]>>;

const ENGINE: SubjectWords = {
  fuel: engineSchema.shape.fuel.unwrap().options,
  cooling: engineSchema.shape.cooling.unwrap().options,
};

const WORDS: Readonly<Record<string, SubjectWords>> = {
  engine: ENGINE,
  generator: ENGINE,
  battery: { chemistry: batterySchema.shape.chemistry.unwrap().options },
  charger: { "powered-by": chargerSchema.shape["powered-by"].unwrap().options },
  tank: { fluid: tankSchema.shape.fluid.options },
  detector: { senses: detectorSchema.shape.senses.unwrap().options },
  network: {
    powered: networkSchema.shape.powered.unwrap().options,
    speaks: networkSchema.shape.speaks.unwrap().options,
  },
};

/** What can be said of the subjects of a group; nothing of most. */
export function subjectWordsOf(group: string): SubjectWords {
  return WORDS[group] ?? {};
}

/** The groups to which a boat file relates others: an engine to its battery. */
export const RELATED_GROUPS: readonly string[] = ["battery"];
