import { SECOND } from "../ground/time.ts";
import { sayDuration } from "../units/duration.ts";
import { isFastProprietary } from "../nmea2000/unknown-pgns.ts";
import { sayRate, sayWho } from "./device-words.ts";
import { chapter, paragraph, sayCount, table } from "./paper.ts";
import type { SurveyBus, SurveyReport, SurveyUnknown } from "./report-schema.ts";

export const HEALTH_HEADING = "Health of the bus";

/** Health of each bus, and what on it nobody could read. */
export function busLines(report: SurveyReport): string[] {
  return [
    ...chapter(HEALTH_HEADING, healthLines(report)),
    ...chapter("Messages that are not known here, by maker", unknownLines(report)),
  ];
}

export function healthLines({ buses }: SurveyReport): string[] {
  return buses.flatMap(aboutBus);
}

function aboutBus(bus: SurveyBus): string[] {
  const load = bus.load === null
    ? "load not measured (less than a second)"
    : `load ${bus.load} %, highest ${bus.highestLoad} %`;
  const facts = [
    load,
    sayCount(bus.errorFrames, "error frame") + sayPowerUp(bus.errorFramesAtPowerUp),
    `${sayCount(bus.lostMessages, "message")} lost`,
    `${sayCount(bus.gaps, "gap")} of more than a second${sayLongest(bus)}`,
    ...(bus.supply === null ? [] : [`lowest supply ${bus.supply} V`]),
  ];
  return [
    ...paragraph(`${bus.bus}: ${facts.join(", ")}.`, 2),
    ...kindLines(bus),
    ...table(bus.faulty.map(({ lost, malformed, repeated, sender }) => [
      `  ${sayWho(sender)}`,
      [
        lost === 0 ? "" : `${sayCount(lost, "message")} lost in holes`,
        malformed === 0 ? "" : `${sayCount(malformed, "frame")} malformed`,
        repeated === 0 ? "" : `${sayCount(repeated, "frame")} sent twice, taken once`,
      ].filter((fact) => fact !== "").join(", "),
    ])),
    ...bus.addressConflicts.flatMap(({ address, names }) =>
      paragraph(`Two devices stay at address ${address}: ${names.join(" and ")}.`, 4)
    ),
    ...(bus.advice === "" ? [] : paragraph(bus.advice, 4)),
  ];
}

function sayLongest({ gaps, longestGap }: SurveyBus): string {
  if (gaps === 0) return "";
  return ` (${gaps === 1 ? "" : "the longest "}${sayDuration(longestGap * SECOND)})`;
}

/** After power-up half a message and claims are usual. */
function sayPowerUp(count: number): string {
  return count === 0 ? "" : ` (${count.toLocaleString("en")} in the 30 s after power-up)`;
}

/** In the words of candump and the kernel, which the adapter's maker uses too. */
function kindLines({ errorKinds }: SurveyBus): string[] {
  const kinds = Object.entries(errorKinds).map(([kind, count]) =>
    `${kind.replaceAll("-", " ")} ${count.toLocaleString("en")}`
  );
  return kinds.length === 0 ? [] : paragraph(`Error frames tell of: ${kinds.join(", ")}.`, 4);
}

function sayTimes({ count, pgn }: SurveyUnknown): string {
  if (isFastProprietary(pgn)) return sayCount(count, "frame");
  return count === 1 ? "once" : `${count.toLocaleString("en")} times`;
}

function unknownLines({ unknown }: SurveyReport): string[] {
  return table(unknown.map((one) => [
    one.manufacturerCode === null ? "maker not said" : `maker ${one.manufacturerCode}`,
    `PGN ${one.pgn}`,
    sayWho(one.sender),
    sayTimes(one),
    sayRate(one.count, one.rate),
    one.sample,
  ]));
}
