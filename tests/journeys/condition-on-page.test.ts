import { expect, test } from "vitest";
import { ownFolder } from "../support/own-folder.ts";
import { PageVisitor } from "../support/page-visitor.ts";
import { SpokenRecording } from "../support/spoken-recording.ts";
import { start } from "../support/sternfast.ts";

const RULES = `alarms:
  - tag: somebody-runs-it
    title: Engine runs with nobody aboard
    each: engine
    high: { signal: speed, setpoint: 500 rpm }
    watch-while: { signal: boat/condition, one-of: [left, laid-up] }
    priority: alarm
    consequence: Somebody is taking her.
    response: { aboard: Nothing., ashore: Call. }
`;

test("who is aboard is said on the page, logged, and judged by at once", async () => {
  const folder = ownFolder({ "rules.yaml": RULES });
  const typed = ["run", "-", "--rules", "rules.yaml", "--page", "127.0.0.1:0"];
  const running = await start(typed, { folder, input: "piped" });
  const [, url] = /The page is at (\S+)/.exec(await running.until(/The page is at \S+/)) ?? [];
  const visitor = new PageVisitor(url);
  await visitor.look();
  const say = async (condition: string) => {
    await (await visitor.post("condition", { condition })).body?.cancel();
  };
  // Before anything was heard on the bus.
  await say("aboard");
  await running.until(/The page says of the boat: aboard\./);
  await running.type(new SpokenRecording().engine(0, 3, { speed: 900, oil: 45 }).text);
  await say("left");
  await running.until(/The page says of the boat: left\./);
  await running.until(/ALARM: Engine runs with nobody aboard, 0\./);
  running.interrupt();
  const { out } = await running.finished();
  expect(out.match(/ALARM/g)).toHaveLength(1);
});
