import { expect, test } from "vitest";
import { ownFolder } from "../support/own-folder.ts";
import { SpokenRecording } from "../support/spoken-recording.ts";
import { start } from "../support/sternfast.ts";

const FILES = {
  "boat.yaml": "bilges: { aft: { float: { instance: 0, indicator: 4 } } }\n",
  "rules.yaml": `alarms:
  - tag: high-water
    title: High water
    each: bilge
    reads: { signal: float, one-of: [on] }
    priority: emergency-alarm
    consequence: She sinks.
    response: { aboard: Pump., ashore: Go there. }
  - tag: battery-there
    title: Battery
    each: battery
    low: { signal: voltage, setpoint: 100 V }
    priority: alarm
    consequence: None.
    response: { aboard: Nothing., ashore: Nothing. }
`,
};

const lifted = (float: "on" | "off") =>
  new SpokenRecording().say(0, 127501, { "instance": 0, "indicator-4": "off" })
    .say(0.5, 127501, { "instance": 0, "indicator-4": float }).text;

/** What the page says of when alarms last sounded, after a program was told so much. */
async function saidOfProofs(folder: string, input: string, text: string, until: RegExp) {
  const files = ["--boat", "boat.yaml", "--rules", "rules.yaml", "--state", "state"];
  const page = ["--page", "127.0.0.1:0"];
  const running = await start(["run", input, ...files, ...page], { folder, input: "piped" });
  const [, url] = /The page is at (\S+)/.exec(await running.until(/The page is at \S+/)) ?? [];
  await running.type(text);
  await running.until(until);
  const shown = await (await fetch(url)).text();
  running.interrupt();
  await running.finished();
  return /<section id="proofs"[\s\S]+?<\/section>/.exec(shown)?.[0].replaceAll(/<[^>]+>/g, "") ??
    "";
}

test("an owner sees when each alarm last really sounded; a made-up boat proves none", async () => {
  const folder = ownFolder(FILES);
  // A made-up boat rings, and keeps no register.
  expect(await saidOfProofs(folder, "simulator:quiet-mooring", "", /Battery/)).toBe("");

  // The float is lifted by hand.
  const said = await saidOfProofs(folder, "-", lifted("on"), /High water/);
  expect(said).toContain("None of 2 wants to be tried yet.");
  expect(said).toMatch(/Battery, battery 0 never heard; try it by \d+ \w+ \d{4}/);
  expect(said).toMatch(/High water, aft bilge sounded \d+ \w+ 20\d\d; try it by \d+ \w+ \d{4}/);
});
