import { describe, expect, test } from "vitest";
import { type AnswerClaims, signAnswer } from "../../alarms/answer-token.ts";
import type { AlarmStatus } from "../../alarms/change.ts";
import { HOUR } from "../../ground/time.ts";
import { NOT_HEARD } from "../../outputs/mqtt/shore/boat-heard.ts";
import { linkDocument } from "../../outputs/page/answering/link-page.ts";
import { RELAYS_ALLOWED, shoreLinks } from "./shore-links.ts";

const SHORE = new Uint8Array(32).fill(1);
const ABOARD = new Uint8Array(32).fill(2);

function alarm(tag: string, title: string): AlarmStatus {
  return {
    ...{ tag, subject: "port", title, state: "unacknowledged", hold: "none", occurrence: 3 },
    ...{ priority: "alarm", signal: "engine/port/oil-pressure", value: 80_000, unit: "Pa" },
    ...{ setpoint: 124_000, raised: HOUR, changed: HOUR, message: "Oil pressure 11 psi." },
    ...{ consequence: "The bearings run dry.", response: { aboard: "Stop.", ashore: "Call." } },
  };
}

function shore() {
  const relayed: string[] = [];
  let isHers = false;
  const boat = {
    alarms: () => [alarm("low-oil", "Low oil pressure"), alarm(NOT_HEARD, "Boat not heard")],
    answer: () => Promise.resolve({ accepted: true } as const),
    follower: {
      relay(token: string) {
        relayed.push(token);
        return Promise.resolve(
          isHers ? { accepted: true } as const : { accepted: false, refused: "Not hers." } as const,
        );
      },
    },
  };
  const links = shoreLinks({
    key: SHORE,
    boatOf: (name) => name === "dora" ? boat : undefined,
    clock: { steady: () => HOUR, wall: () => HOUR },
  });
  return { links, relayed, provesAll: () => isHers = true };
}

function claimed(more: Partial<AnswerClaims> = {}): AnswerClaims {
  return {
    ...{ boat: "dora", tag: "low-oil", subject: "port", occurrence: 3, action: "have-it" },
    ...{ person: "Ellen", expires: 2 * HOUR, ...more },
  };
}

/** What a person reads who follows the link. */
function shown(claims: AnswerClaims, key: Uint8Array): string {
  const subject = shore().links.look(signAnswer(claims, key));
  if (!subject.usable) return subject.refused;
  return linkDocument(subject, "", { now: HOUR, timeZone: "UTC" })
    .replace(/.*<body>/s, "").replace(/<[^>]*>/g, " ").replace(/\s+/g, " ").trim();
}

describe("the shore's page shows of a link that it cannot prove", () => {
  test("the boat and the title of the rule, and nothing of how the alarm stands", () => {
    expect(shown(claimed(), ABOARD)).toBe(
      "Dora Low oil pressure I have it It is sent on to the boat, which checks the link. " +
        "What is wrong stands in your message. Nothing happens before you press it. " +
        "Open the whole page",
    );
  });

  test("no word that a stranger has written into it", () => {
    const written = { tag: "Pay 100 at", subject: "evil.example", person: "your bank" };
    expect(shown(claimed(written), ABOARD)).not.toMatch(/Pay|evil|bank/);
    expect(shown(claimed(written), ABOARD)).toContain("An alarm");
  });

  test("no more where it says that it is the shore's own", () => {
    expect(shown(claimed({ tag: NOT_HEARD }), ABOARD)).toMatch(/did not make that link/);
    expect(shown(claimed({ tag: NOT_HEARD }), SHORE)).toMatch(/Boat not heard.*Answers as Ellen/);
  });
});

describe("a boat is asked to prove links", () => {
  test("only so often from one address, and so often in all", async () => {
    const { links, relayed } = shore();
    const press = async (address: string) => {
      const outcome = await links.answer("token", claimed(), address);
      return outcome.accepted ? "" : outcome.refused;
    };
    for (let i = 0; i < RELAYS_ALLOWED.fromOne; i++) expect(await press("a")).toBe("Not hers.");
    expect(await press("a")).toMatch(/^Too many links were tried. Try again in 15 min/);
    for (let i = 0; i < RELAYS_ALLOWED.fromAll; i++) await press(`other-${i}`);
    expect(await press("last")).toMatch(/^Too many/);
    expect(relayed).toHaveLength(RELAYS_ALLOWED.fromAll);
  });

  test("as often as they are hers", async () => {
    const { links, relayed, provesAll } = shore();
    provesAll();
    const many = 2 * RELAYS_ALLOWED.fromAll;
    for (let i = 0; i < many; i++) await links.answer("token", claimed(), "a");
    expect(relayed).toHaveLength(many);
  });
});
