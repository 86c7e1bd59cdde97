import { chapter, paragraph, sayCount, table } from "./paper.ts";
import { plainText } from "./plain-text.ts";
import { SELDOM } from "./round-rate.ts";
import type { SurveyDevice, SurveyReport, SurveySender } from "./report-schema.ts";

/** One load equivalency is a current of 50 mA from the network. */
const MILLIAMPERES = 50;

/** Every sender with what it says of itself, and its messages below it. */
export function deviceLines({ devices }: SurveyReport): string[] {
  const unnamed = devices.filter(({ name }) => name === null);
  return chapter(`Devices: ${devices.length}`, [
    ...(unnamed.length === 0 ? [] : paragraph(
      `${sayCount(unnamed.length, "sender")} spoke without telling who ` +
        `${
          unnamed.length === 1 ? "it is" : "they are"
        }, because devices do that only at power-up: ` +
        "switch the network off and on while I listen.",
    )),
    ...(devices.length === 0 ? [] : paragraph(
      "How often a message came is counted over the whole survey; how often a value came, above, from " +
        "its first time to its last.",
      2,
    )),
    ...devices.flatMap((device) => ["", ...aboutDevice(device)]),
  ]);
}

function aboutDevice(device: SurveyDevice): string[] {
  const { address, bus, lastHeard, loadEquivalency, messages, name, serial } = device;
  const load = loadEquivalency === null
    ? ""
    : `load equivalency ${loadEquivalency} (${loadEquivalency * MILLIAMPERES} mA)`;
  const facts = [
    name === null ? "" : `NAME ${name}`,
    serial === null ? "" : `serial ${plainText(serial)}`,
    load,
    lastHeard === null ? "never heard" : `last heard ${lastHeard.slice(11, 19)} UTC`,
  ].filter((fact) => fact !== "");
  return [
    `  ${bus} ${address === null ? "without an address" : `address ${address}`}: ${
      modelOf(device)
    }`,
    ...paragraph(facts.join(", "), 4),
    ...table(messages.map(({ count, pgn, rate, title }) => [
      `  ${pgn}`,
      title,
      sayCount(count, "message"),
      sayRate(count, rate),
    ])),
  ];
}

/** `10 a second`, `one in 15 s`; nothing for a message that came once. */
export function sayRate(count: number, rate: number | null): string {
  if (rate === null || rate === 0 || count === 1) return "";
  return rate >= SELDOM ? `${rate} a second` : `one in ${Math.round(1 / rate)} s`;
}

function modelOf({ manufacturerCode, model, name, softwareVersion }: SurveyDevice): string {
  if (name === null) return "has not said who it is";
  if (model === null) return `maker ${manufacturerCode}, model not heard`;
  const version = softwareVersion === null ? "" : `, software ${plainText(softwareVersion)}`;
  return `${plainText(model)}${version}`;
}

/** `port gateway at 10`, or `address 10 on can0`. */
export function sayWho({ address, bus, model }: SurveySender): string {
  return model === null ? `address ${address} on ${bus}` : `${plainText(model)} at ${address}`;
}
