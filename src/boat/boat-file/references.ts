import { matchingParts, type Part } from "../../ground/matching-parts.ts";
import type { Problem } from "../../ground/problem.ts";
import { nearestName } from "../../ground/spelling.ts";
import type { YamlFile } from "../../ground/yaml-file.ts";

/** Where the boat file names things that other sections list. */
const DEVICES = ["*.*.device", "bilges.*.*.device", "position.from", "position.stand-in"];
const BATTERIES = [
  "engines.*.battery",
  "engines.*.starts-from",
  "generators.*.battery",
  "generators.*.starts-from",
  "chargers.*.charges",
  "inverters.*.battery",
  "bilges.*.inferred.battery",
  "bilges.*.pump.battery",
];
const BUSES = ["*.*.bus", "bilges.*.*.bus"];

/** Names of devices, batteries and buses that the boat file does not list. */
export function unlistedNames(document: YamlFile): Problem[] {
  const buses = textsAt(document, "networks.*.bus").map(({ text }) => text);
  return [
    ...unlisted(document, DEVICES, "devices", namesIn(document, "devices")),
    ...unlisted(document, BATTERIES, "batteries", namesIn(document, "batteries")),
    // A bus is known without a network: only a list of networks makes a strange one a slip.
    ...(buses.length === 0 ? [] : unlisted(document, BUSES, "networks", buses)),
  ];
}

/** Buses that two networks claim. */
export function sharedBuses(document: YamlFile): Problem[] {
  const buses = textsAt(document, "networks.*.bus");
  return buses.flatMap(({ text, path }, i): Problem[] => {
    const first = buses.slice(0, i).find((one) => one.text === text);
    if (first === undefined) return [];
    return [{
      kind: "conflict",
      place: document.place(path, "value"),
      found: `networks "${path[1]}" and "${first.path[1]}" are both on bus ${text}`,
      remedy: "a bus is one network",
    }];
  });
}

/** Names that a section lists, though its own key may be misspelled. */
function namesIn(document: YamlFile, section: string): string[] {
  const sections = document.keys([]);
  const meant = sections.includes(section) ? section : nearestName(section, sections);
  return meant === undefined ? [] : document.keys([meant]);
}

function unlisted(
  document: YamlFile,
  patterns: readonly string[],
  section: string,
  listed: readonly string[],
): Problem[] {
  const named = patterns.flatMap((pattern) => textsAt(document, pattern));
  return named.filter(({ text }) => !listed.includes(text)).map(({ text, path }) => {
    const nearest = nearestName(text, listed);
    return {
      kind: "unknown-name",
      place: document.place(path, "value"),
      found: text,
      owner: `the list of ${section}`,
      ...(nearest === undefined ? {} : { nearest }),
    };
  });
}

function textsAt(document: YamlFile, pattern: string): { path: Part["path"]; text: string }[] {
  return matchingParts(document.value, pattern)
    .flatMap(({ path, value }) => typeof value === "string" ? [{ path, text: value }] : []);
}
