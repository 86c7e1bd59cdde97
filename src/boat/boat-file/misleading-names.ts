import type { Problem } from "../../ground/problem.ts";
import type { YamlFile } from "../../ground/yaml-file.ts";
import type { Described } from "./subjects.ts";
import { FLUIDS } from "./tanks.ts";
import { PLACES } from "../../nmea2000/rows/environment.ts";

/** What an unnamed thing is called (contract §2): `0`, `fuel-0`, `inside-0`. */
const NUMBER_NAME = new RegExp(`^(?:(?:${[...FLUIDS, ...PLACES].join("|")})-)?\\d+$`);

/**
 * Names that an unnamed thing could have, with another number than their own: an engine called `1`
 * that sends instance 0 would share its signals with the unnamed engine 1.
 */
export function misleadingNames(document: YamlFile, described: readonly Described[]): Problem[] {
  return described.flatMap(({ path, subject }): Problem[] => {
    if (!NUMBER_NAME.test(subject.name)) return [];
    const own = subject.keys.map(({ fluid, place, instance }) =>
      [fluid ?? place, instance].filter((part) => part !== undefined).join("-")
    );
    if (own.includes(subject.name)) return [];
    return [{
      kind: "wrong-value",
      place: document.place(path, "key"),
      found: subject.name,
      expected: "a name; this one is what an unnamed one with that number is called",
    }];
  });
}
