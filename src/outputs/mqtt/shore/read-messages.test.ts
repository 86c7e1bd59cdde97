import { expect, test } from "vitest";
import { HOUR } from "../../../ground/time.ts";
import { MORNING, STATUS } from "../../../../tests/support/mqtt-boat.ts";
import { alarmPayload, alarmTopic } from "../alarm-payload.ts";
import { readStatus } from "./read-messages.ts";

test("an alarm is read on shore as the boat wrote it, put aside or not", () => {
  for (const hold of [{}, { hold: "shelved", heldUntil: MORNING + HOUR } as const]) {
    const status = { ...STATUS, ...hold };
    expect(readStatus(alarmTopic(status), alarmPayload(status))).toEqual({ ...status, signal: "" });
  }
});
