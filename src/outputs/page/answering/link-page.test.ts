import { expect, test } from "vitest";
import type { AlarmStatus } from "../../../alarms/change.ts";
import { MINUTE } from "../../../ground/time.ts";
import { linkDocument } from "./link-page.ts";

const status: AlarmStatus = {
  ...{ tag: "low-oil", subject: "port", title: "Low oil pressure", state: "unacknowledged" },
  ...{ hold: "none", occurrence: 3, priority: "alarm", signal: "engine/port/oil-pressure" },
  ...{ value: null, unit: "Pa", setpoint: null, raised: 31 * MINUTE, changed: 31 * MINUTE },
  ...{ message: "Port oil pressure 11 psi, limit 18 psi.", consequence: "The bearings run dry." },
  response: { aboard: "Stop that engine.", ashore: "Call the number on file." },
};

test("a link says what to do to whoever is aboard and to whoever is not, and asks before it acts", () => {
  const page = linkDocument(
    {
      usable: true,
      isProven: true,
      claims: {
        ...{ boat: "dora", tag: "low-oil", subject: "port", occurrence: 3, action: "have-it" },
        ...{ person: "Ellen", expires: 60 * MINUTE },
      },
      boat: "Dora",
      title: status.title,
      status,
    },
    "",
    { now: 40 * MINUTE, timeZone: "UTC" },
  );
  const text = page.replace(/.*<body>/s, "").replace(/<[^>]*>/g, " ").replace(/\s+/g, " ").trim();
  expect(text).toBe(
    "Dora Alarm , not yet answered Low oil pressure, port engine " +
      "Port oil pressure 11 psi, limit 18 psi. Since 00:31:00. The bearings run dry. " +
      "Aboard Stop that engine. Ashore Call the number on file. " +
      "I have it Answers as Ellen. Nothing happens before you press it. Open the whole page",
  );
});
