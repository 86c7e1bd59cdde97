/**
 * A boat file for its owner to complete: what the bus says for certain is written out, what only the
 * owner knows stands in comments that become right once the "# " before them is taken away.
 */
import { MOST_INSTANCE } from "../boat/boat-file/values.ts";
import { TIED_TEMPERATURES } from "../boat/catalogue/environment.ts";
import { PLACES } from "../nmea2000/rows/environment.ts";
import { topicWord } from "../boat/naming.ts";
import { NO_ADDRESS } from "../nmea2000/identifier.ts";
import type { HeardThing } from "./heard-things.ts";
import { sentBy } from "./sent-by.ts";
import { draftEngines } from "./draft-engines.ts";
import type { SurveyDevice } from "./report-schema.ts";
import { plainText } from "./plain-text.ts";
import { quoted } from "./yaml-text.ts";

export interface DraftParts {
  readonly things: readonly HeardThing[];
  readonly devices: readonly SurveyDevice[];
  /** Names of the buses on which something was heard. */
  readonly buses: readonly string[];
}

/** The text of a boat file that `check` accepts, as it is and with its comments made lines. */
export function draftBoat({ things, devices, buses }: DraftParts): string {
  const j1939 = buses.filter((bus) => isJ1939(bus, things));
  const nmea2000 = buses.filter((bus) => !j1939.includes(bus));
  const named = things.filter(canBeNamed);
  const engines = draftEngines(
    named.filter(({ group }) => group === "engine"),
    nmea2000.length > 1,
  );
  const lines = [
    "# Drafted by a bus survey. Look at every line before you rely on it: names are guesses,",
    "# and which engine is which shows when one key is turned on alone.",
    "# Take the first # away where a line is right, and complete it.",
    "# boat: my-boat",
    "# units: { pressure: kPa, temperature: °C, volume: L }",
    "# time-zone: UTC",
    "",
    "networks:",
    ...nmea2000.map((bus, i) =>
      `  ${i === 0 ? "main" : topicWord(bus)}: { bus: ${
        quoted(bus)
      } } # powered always or with-helm?`
    ),
    ...j1939.map((bus) => `  ${topicWord(bus)}: { bus: ${quoted(bus)}, speaks: j1939 }`),
    ...section("engines:", engines.lines),
    ...sections(named, nmea2000.length > 1),
    ...withoutNumber(things),
    ...deviceSection(devices, engines.devices),
  ];
  return `${lines.join("\n")}\n`;
}

/** Whether a boat file can name it by what it says of itself. */
function canBeNamed({ key: { address = 0, instance = 0 } }: HeardThing): boolean {
  return instance <= MOST_INSTANCE && address < NO_ADDRESS;
}

/** Numbers that are reserved can be given no name. */
function withoutNumber(things: readonly HeardThing[]): string[] {
  const lines = things.filter((thing) => !canBeNamed(thing)).map((thing) =>
    `# ${thing.group}/${thing.subject}: ${sentBy(thing)}, without a number that it could be ` +
    "named by; set one in the device."
  );
  return lines.length === 0 ? [] : ["", ...new Set(lines)];
}

/** Nothing on it has an instance, and something an address. */
function isJ1939(bus: string, things: readonly HeardThing[]): boolean {
  const own = things.filter(({ sender }) => sender.bus === bus);
  return own.length > 0 && own.every(({ speaksJ1939 }) => speaksJ1939);
}

/** Groups that only the owner can name: section, and what its lines should be completed with. */
const SECTIONS: readonly (readonly [group: string, section: string, complete: string])[] = [
  ["battery", "batteries", "chemistry: flooded, agm, gel or lifepo4; nominal; capacity"],
  ["charger", "chargers", "charges: which battery; powered-by: shore, generator, solar"],
  ["inverter", "inverters", "battery: which one"],
  ["shore-power", "shore-power", ""],
  ["tank", "tanks", "capacity"],
];

function sections(things: readonly HeardThing[], severalBuses: boolean): string[] {
  return [
    ...SECTIONS.flatMap(([group, title, complete]) => {
      const own = distinct(things.filter((thing) => thing.group === group), severalBuses);
      const lines = own.map((thing) => `#   ${entryLine(thing, severalBuses)}`);
      const hint = complete === "" ? "" : ` # ${complete}`;
      return section(`# ${title}:${hint}`, lines);
    }),
    ...section(
      "# switches: # or, of a bank, bilges (pump, float) and detectors",
      distinct(things.filter(({ indicators }) => indicators.length > 0), severalBuses)
        .flatMap((bank) => bankLines(bank, severalBuses)),
    ),
    ...temperatureSection(things.filter(({ key }) => isPlace(key.place)), severalBuses),
  ];
}

/** Some places can be an engine's: rules about exhausts and shaft seals look there. */
function temperatureSection(things: readonly HeardThing[], severalBuses: boolean): string[] {
  const [tie] = Object.entries(TIED_TEMPERATURES).flatMap(([part, { place }]) =>
    things.filter(({ key }) => key.place === place && key.instance !== undefined)
      .map(({ key }) => `${part}: { temperature-instance: ${key.instance} }`)
  );
  const hint = tie === undefined ? "" : ` # an engine's own go to its line, as in ${tie}`;
  const lines = distinct(things, severalBuses)
    .map((thing) => `#   ${entryLine(thing, severalBuses)}`);
  return section(`# temperatures:${hint}`, lines);
}

/** Places of temperatures; those of pressures are no part of a boat file. */
function isPlace(place: string | undefined): boolean {
  return PLACES.some((known) => known === place);
}

function distinct(things: readonly HeardThing[], severalBuses: boolean): HeardThing[] {
  const byKey = new Map<string, HeardThing>();
  for (const thing of things) {
    const key = keyText(thing, severalBuses);
    if (!byKey.has(key)) byKey.set(key, thing);
  }
  return [...byKey].toSorted(([a], [b]) => a.localeCompare(b, "en", { numeric: true }))
    .map(([, thing]) => thing);
}

function keyText({ key, sender }: HeardThing, severalBuses: boolean): string {
  const { fluid, instance, place } = key;
  return [
    ...(fluid === undefined ? [] : [`fluid: ${fluid}`]),
    ...(place === undefined ? [] : [`place: ${place}`]),
    ...(instance === undefined ? [] : [`instance: ${instance}`]),
    ...(severalBuses ? [`bus: ${quoted(sender.bus)}`] : []),
  ].join(", ");
}

function entryLine(thing: HeardThing, severalBuses: boolean): string {
  const name = thing.isNamed ? thing.subject : nameFor(thing, severalBuses);
  return `${name}: { ${keyText(thing, severalBuses)} } # ${sentBy(thing)}`;
}

/** Not `fuel-0`: a boat file takes that for what an unnamed thing is called. */
function nameFor({ group, key, sender }: HeardThing, severalBuses: boolean): string {
  const what = key.fluid ?? key.place ?? group;
  const where = severalBuses ? `${topicWord(sender.bus)}-` : "";
  return `${where}${what}-${
    key.instance === undefined ? "unnumbered" : `instance-${key.instance}`
  }`;
}

function bankLines(bank: HeardThing, severalBuses: boolean): string[] {
  const { instance = 0 } = bank.key;
  const bus = severalBuses ? `, bus: ${quoted(bank.sender.bus)}` : "";
  const where = severalBuses ? `${topicWord(bank.sender.bus)}-` : "";
  return bank.indicators.map((indicator) =>
    `#   ${where}bank-${instance}-switch-${indicator}: ` +
    `{ instance: ${instance}, indicator: ${indicator}${bus} }`
  );
}

function deviceSection(
  devices: readonly SurveyDevice[],
  needed: ReadonlyMap<string, string>,
): string[] {
  const lines = [...needed].map(([name, serial]) => `  ${name}: { serial: ${quoted(serial)} }`);
  const written = new Set(needed.values());
  const others = devices.flatMap(({ address, model, name, serial }): string[] => {
    const identity = serial ?? name;
    if (identity === null || written.has(identity)) return [];
    written.add(identity);
    const place = address === null ? "without an address" : `address ${address}`;
    const comment = model === null ? place : plainText(model);
    return [`#   device-${written.size}: { serial: ${quoted(identity)} } # ${comment}`];
  });
  const title = lines.length > 0
    ? "devices:"
    : "# devices: # watch: always for one that must never go";
  return section(title, [...lines, ...others]);
}

function section(title: string, lines: readonly string[]): string[] {
  return lines.length === 0 ? [] : ["", title, ...lines];
}
