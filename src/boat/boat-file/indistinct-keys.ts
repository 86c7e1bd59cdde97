import type { Place, Problem } from "../../ground/problem.ts";
import type { YamlFile } from "../../ground/yaml-file.ts";
import type { Key } from "../boat.ts";
import type { Described } from "./subjects.ts";

/** One key, whose it is and where it stands. */
interface Claim {
  readonly key: Key;
  readonly owner: string;
  readonly place: Place;
  /** Messages of one family carry the same key parts. */
  readonly family: string;
}

const PARTS = [
  "fluid",
  "place",
  "indicator",
  "instance",
  "address",
  "bus",
  "device",
] as const;

/**
 * Subjects whose messages could also be another's, named earlier: no part that both give differs, and
 * neither says more than the other (the one that says more wins).
 */
export function indistinctKeys(document: YamlFile, described: readonly Described[]): Problem[] {
  const claims = described.flatMap((one) => claimsOf(document, one));
  return claims.flatMap((second, i): Problem[] => {
    const first = claims.slice(0, i).find((earlier) => !areTold(earlier, second));
    if (first === undefined) return [];
    return [{
      kind: "conflict",
      place: second.place,
      found: `${second.owner} and ${first.owner} (line ${first.place.line}) ` +
        `${bothSay(first.key, second.key)}, and nothing tells them apart`,
      remedy: isTied(first.key) && isTied(second.key)
        ? "give them different instances, or say it of one of them only"
        : "give them different instances, or name the device or bus of each",
    }];
  });
}

/** A temperature in an engine's own line, which says its instance alone. */
function isTied({ place, quantity }: Key): boolean {
  return place !== undefined && quantity !== "self";
}

/** Contacts that have a key of their own in the boat file. */
const PARTS_OF_A_SUBJECT = ["pump", "float", "fault-contact"];

function claimsOf(document: YamlFile, { path, subject }: Described): Claim[] {
  return subject.keys.map((key) => {
    const part = PARTS_OF_A_SUBJECT.includes(key.quantity) ? [key.quantity] : [];
    return {
      key,
      owner: [...part, `${subject.group} "${subject.name}"`].join(" of "),
      place: document.place([...path, ...part], "key"),
      family: familyOf(key, subject.group),
    };
  });
}

/** Engines and generators send the same messages; so do all that reads an indicator. */
function familyOf(key: Key, group: string): string {
  if (key.indicator !== undefined) return "indicator";
  if (key.place !== undefined) return "temperature";
  if (group === "generator") return "engine";
  return group;
}

function areTold(first: Claim, second: Claim): boolean {
  if (first.family !== second.family) return true;
  const [a, b] = [first.key, second.key];
  // An instance is said on NMEA 2000 only, an address as a key on J1939 only.
  if (a.address !== undefined && b.instance !== undefined) return true;
  if (b.address !== undefined && a.instance !== undefined) return true;
  const both = PARTS.filter((part) => a[part] !== undefined && b[part] !== undefined);
  if (both.some((part) => a[part] !== b[part])) return true;
  const moreInFirst = PARTS.some((part) => a[part] !== undefined && b[part] === undefined);
  const moreInSecond = PARTS.some((part) => b[part] !== undefined && a[part] === undefined);
  return moreInFirst !== moreInSecond;
}

function bothSay(a: Key, b: Key): string {
  const same = PARTS.filter((part) => a[part] !== undefined && a[part] === b[part]);
  if (same.length === 0) return "say too little of themselves";
  return `both say ${same.map((part) => `${part} ${a[part]}`).join(", ")}`;
}
