import { sayWho } from "./device-words.ts";
import { chapter, paragraph, sayCount } from "./paper.ts";
import type { SurveyReport, SurveyTroubleCode } from "./report-schema.ts";

/** What engines and other controllers find wrong with themselves, the active codes first. */
export function troubleCodeLines({ troubleCodes }: SurveyReport): string[] {
  const bySender = Map.groupBy(troubleCodes, ({ sender }) => sayWho(sender));
  return chapter(
    "Trouble codes",
    [...bySender].flatMap(([who, codes]) => [
      `  ${who}`,
      ...codes.toSorted((a, b) => Number(b.active) - Number(a.active))
        .flatMap((code) => paragraph(sayCode(code), 4)),
    ]),
  );
}

/** `SPN 100 FMI 1, active, 3 times: engine oil, pressure: far below range.` */
function sayCode(code: SurveyTroubleCode): string {
  const { about, active, failure, fmi, occurrences, oldLayout, spn } = code;
  const facts = [
    `SPN ${spn} FMI ${fmi}`,
    active ? "active" : "no longer active",
    // A code that is told of and came no time was not counted.
    ...(occurrences === null || occurrences === 0 ? [] : [sayCount(occurrences, "time")]),
  ];
  const what = about ?? "see the engine's manual for the part";
  const how = failure === null ? "" : `: ${failure.replaceAll("-", " ")}`;
  const doubt = oldLayout ? " The SPN is a guess: it is laid out in an old way." : "";
  return `${facts.join(", ")}: ${what}${how}.${doubt}`;
}
