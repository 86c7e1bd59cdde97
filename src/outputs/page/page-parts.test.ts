import { describe, expect, test } from "vitest";
import type { AlarmStatus } from "../../alarms/change.ts";
import { SignalTable } from "../../boat/signal-table.ts";
import { HOUR, MINUTE, SECOND } from "../../ground/time.ts";
import { announcements } from "./announcements.ts";
import { buildView, type ViewSources } from "./build-view.ts";
import type { Visitor } from "./access/role.ts";
import { pageDocument } from "./document.ts";

const SOMEBODY: Visitor = {
  role: "act",
  who: "Kim",
  formToken: "token",
  signedIn: true,
  isStillIn: () => true,
};

/** 2026-06-14, 14:37:52 UTC. */
const NOW = Date.UTC(2026, 5, 14, 14, 37, 52) * 1000;

const LOW_OIL: AlarmStatus = {
  tag: "low-oil",
  subject: "port",
  title: "Low oil pressure",
  state: "unacknowledged",
  hold: "none",
  occurrence: 3,
  priority: "alarm",
  signal: "engine/port/oil-pressure",
  value: 80_000,
  unit: "Pa",
  setpoint: 124_000,
  raised: NOW - 6 * MINUTE,
  changed: NOW - 6 * MINUTE,
  message: "Port oil pressure 11 psi, limit 18.",
  consequence: "The bearings run dry.",
  response: { aboard: "Bring it to idle.", ashore: "Call the number on file." },
};

function view(alarms: AlarmStatus[], more: Partial<ViewSources> = {}) {
  return buildView({
    boat: "hazel-comfort",
    timeZone: "UTC",
    demo: false,
    owners: {},
    table: new SignalTable(),
    alarms,
    rooms: [],
    watch: { onWatch: 3, unjudged: [] },
    now: NOW,
    lastFrame: NOW - SECOND,
    wallOf: (steady) => steady,
    ...more,
  });
}

/** What a person reads. */
function read(...parameters: Parameters<typeof view>): string {
  return pageDocument(view(...parameters), SOMEBODY).replace(/<[^>]*>/g, " ").replace(/\s+/g, " ");
}

describe("an alarm on the page", () => {
  test("says what, where, since when, what follows and what to do", () => {
    const text = read([LOW_OIL]);
    expect(text).toContain("Alarm , not yet answered");
    expect(text).toContain("Low oil pressure, port engine");
    expect(text).toContain("Since 14:31:52, for 6 min");
    expect(text).toContain("The bearings run dry.");
    expect(text).toContain("Aboard Bring it to idle. Ashore Call the number on file.");
    expect(text).toContain("I know of it : Low oil pressure");
  });

  test("that is over still asks for its answer, and says from when to when it was", () => {
    const text = read([{
      ...LOW_OIL,
      state: "returned-unacknowledged",
      changed: NOW - 2 * MINUTE,
    }]);
    expect(text).toContain("over, not yet answered");
    expect(text).toContain("From 14:31:52 to 14:35:52, 2 min ago");
    expect(text).toContain("I know of it : Low oil pressure");
  });

  test("asks no more once it is answered", () => {
    expect(read([{ ...LOW_OIL, state: "acknowledged" }])).not.toContain("I know of it");
  });

  test("that is a caution asks for no answer", () => {
    const text = read([{ ...LOW_OIL, state: "acknowledged", priority: "caution" }]);
    expect(text).toContain("asks for no answer");
    expect(text).not.toContain("I know of it");
  });

  test("that a person put aside stays in sight; what its own rule holds back does not", () => {
    const held = { ...LOW_OIL, state: "normal" as const };
    expect(read([{ ...held, hold: "shelved" }])).toContain("shelved");
    expect(read([{ ...held, hold: "suppressed-by-design" }])).not.toContain("Low oil pressure");
    expect(read([{ ...held, hold: "none" }])).not.toContain("Low oil pressure");
  });

  test("that was put aside says until when, and nothing of a limit that is not passed", () => {
    const held = { ...LOW_OIL, hold: "shelved" as const, heldUntil: NOW + 10 * MINUTE };
    const standing = read([held]);
    expect(standing).toContain("Alarm , shelved until 14:47:52");
    expect(standing).toContain("Since 14:31:52, for 6 min");
    const over = read([{ ...held, state: "normal", heldUntil: NOW + 24 * HOUR }]);
    expect(over).toContain("shelved until 15 June, 14:37:52");
    expect(over).toContain("Its condition is not there now.");
    expect(over).not.toContain("Since");
    expect(over).not.toContain(LOW_OIL.message);
  });

  test("comes before those that are answered, whatever their priority", () => {
    const text = read([
      { ...LOW_OIL, tag: "b", title: "Answered alarm", state: "acknowledged" },
      { ...LOW_OIL, tag: "c", title: "Open warning", priority: "warning" },
      { ...LOW_OIL, tag: "d", title: "Open alarm" },
    ]);
    const places = ["Open alarm", "Open warning", "Answered alarm"].map((title) =>
      text.indexOf(title)
    );
    expect(places).toEqual(places.toSorted((a, b) => a - b));
  });

  test("cannot bring HTML with it", () => {
    const page = pageDocument(view([{ ...LOW_OIL, title: "<script>alert(1)</script>" }]), SOMEBODY);
    expect(page).not.toContain("<script>alert");
  });
});

describe("the state of the link", () => {
  test("is said with the boat's time of day", () => {
    expect(read([])).toContain("Hearing the boat, 14:37:52 her time.");
    expect(read([], { timeZone: "Europe/London" })).toContain("15:37:52 her time");
  });

  test("says of the room left that it is not known here, where it is not", () => {
    const NONE = "No rule with a limit is being judged.";
    expect(read([])).toContain(NONE);
    expect(read([], { rooms: undefined })).not.toContain(NONE);
    expect(read([], { rooms: undefined })).toContain("stands on her own page");
  });

  test("warns that everything is old once the bus is quiet", () => {
    expect(read([], { lastFrame: NOW - 6 * MINUTE })).toContain(
      "Nothing on the boat’s network since 14:31:52, 6 minutes ago. " +
        "Everything below is from then, not from now.",
    );
  });

  test("does not claim to have heard what never spoke", () => {
    expect(read([], { lastFrame: 0 })).toContain(
      "Nothing has been heard on the boat’s network yet.",
    );
  });
});

describe("what a screen reader says", () => {
  const acknowledged = { ...LOW_OIL, state: "acknowledged" as const };

  test("is each new raising, once", () => {
    expect(announcements(view([]), view([LOW_OIL]))).toEqual([
      "Alarm: Low oil pressure, port engine, Port oil pressure 11 psi, limit 18.",
    ]);
    expect(announcements(view([LOW_OIL]), view([{ ...LOW_OIL, message: "10 psi" }]))).toEqual([]);
    expect(announcements(view([acknowledged]), view([{ ...LOW_OIL, occurrence: 4 }])))
      .toHaveLength(1);
  });

  test("includes a rise to a higher priority", () => {
    expect(announcements(view([{ ...LOW_OIL, priority: "warning" }]), view([LOW_OIL])))
      .toHaveLength(1);
  });

  test("leaves out what asks for nothing", () => {
    expect(announcements(view([]), view([acknowledged]))).toEqual([]);
  });
});

test("the rules that cannot be judged are named", () => {
  const watch = {
    onWatch: 3,
    unjudged: [{ title: "Exhaust too hot", about: "port engine", reason: "never heard" }],
  };
  expect(read([], { watch })).toContain("Exhaust too hot, port engine: never heard");
});
