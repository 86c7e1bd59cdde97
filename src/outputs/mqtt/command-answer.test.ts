import { expect, test } from "vitest";
import { parseIsoTime } from "../../ground/time.ts";
import { commandAnswers, type ReplyWish } from "./command-answer.ts";

const wall = parseIsoTime("2026-06-14T10:12:03.120Z") ?? 0;
const BASE = "sternfast/hazel-comfort/";
const answers = (id: string | null, wish: ReplyWish | null) =>
  commandAnswers(id, { accepted: false, refused: "No." }, wish, BASE, wall);

test("the answer goes to the command's own topic, once, not retained", () => {
  expect(answers("a1", null)).toEqual([{
    topic: "command-answer/a1",
    payload: '{"id":"a1","accepted":false,"refused":"No.","time":"2026-06-14T10:12:03.120Z"}',
    retain: false,
    qos: 1,
  }]);
});

test("it goes to the response topic too, with what the sender wants back", () => {
  const correlation = new Uint8Array([1, 2]);
  expect(answers("a1", { topic: "phones/ellen", correlation })[1]).toMatchObject({
    topic: "phones/ellen",
    absolute: true,
    correlation,
  });
});

test("without an id only a response topic can be answered", () => {
  expect(answers(null, null)).toEqual([]);
  expect(answers(null, { topic: "phones/ellen" })).toHaveLength(1);
});

test.each([`${BASE}link`, `${BASE}alarm/a/b`, "phones/#", "phones/+/a", "$SYS/a", ""])(
  "no sender makes us write on %j",
  (topic) => expect(answers(null, { topic })).toEqual([]),
);

test("the boat's own answer topics are allowed", () => {
  expect(answers(null, { topic: `${BASE}command-answer/mine` })).toHaveLength(1);
});
