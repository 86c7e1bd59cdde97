import { expect, test, vi } from "vitest";
import { Mosquitto, Reader } from "../support/mosquitto.ts";
import { needs } from "../support/needs.ts";
import { ownFolder } from "../support/own-folder.ts";
import { SpokenRecording } from "../support/spoken-recording.ts";
import { start } from "../support/sternfast.ts";

const waiting = { timeout: 45_000, interval: 20 };
const ruleOf = (tag: string, setpoint: string) =>
  `  - tag: ${tag}
    title: Oil low
    each: engine
    low: { signal: oil-pressure, setpoint: ${setpoint} }
    priority: alarm
    consequence: The bearings run dry.
    response: { aboard: Stop it., ashore: Call. }
`;

needs("mosquitto")("rule files that are changed while the boat is watched", () => {
  test("are put in force, refused with a mistake, and touch no other alarm", async () => {
    const mosquitto = await Mosquitto.start();
    const reader = await Reader.start(mosquitto.port, "sternfast/boat/#");
    const rules = (...texts: string[]) => `alarms:\n${texts.join("")}`;
    const folder = ownFolder({
      "rules/oil.yaml": rules(ruleOf("oil-low", "10 psi"), ruleOf("oil-lower", "7 psi")),
    });
    const write = (text: string) => Deno.writeTextFileSync(`${folder}/rules/oil.yaml`, text);
    const alarm = (tag: string, subject = "0") =>
      JSON.stringify(reader.latest(`sternfast/boat/alarm/${tag}/${subject}`) ?? {});

    const typed = ["run", "-", "--rules", "rules", "--broker", mosquitto.url, "--state", "state"];
    const run = await start(typed, { folder, input: "piped" });
    const trip = new SpokenRecording().engine(0, 5, { speed: 2500, oil: 5 });
    await run.type(trip.text);
    await vi.waitUntil(() => alarm("oil-lower").includes('"unacknowledged"'), waiting);

    // A wrong file changes nothing, and says so on the terminal, on the page and on the broker.
    write(rules(ruleOf("oil-low", "10 V"), ruleOf("oil-lower", "7 psi")));
    await run.until(/rules\/oil\.yaml:5:\d+: .*The rules that were accepted last stay in force\./);
    await vi.waitUntil(() => alarm("rules-refused", "boat").includes('"acknowledged"'), waiting);
    expect(alarm("oil-low")).toContain('"unacknowledged"');

    // A sound one: one limit is another, one rule is new, one is gone.
    write(rules(ruleOf("oil-low", "10 psi"), ruleOf("oil-lowest", "6 psi")));
    await run.until(/The rule files have changed; 2 rules are in force now\./);
    const later = new SpokenRecording(trip.begins + 120_000_000);
    await run.type(later.engine(0, 5, { speed: 2500, oil: 5 }).text);
    await vi.waitUntil(() => alarm("oil-lowest").includes('"unacknowledged"'), waiting);
    await vi.waitUntil(() => alarm("rules-refused", "boat").includes('"normal"'), waiting);
    expect(alarm("oil-low")).toContain('"occurrence":1');
    run.interrupt();
    const { code, out } = await run.finished();
    expect(code).toBe(130);
    expect(out.match(/ALARM: Oil low, 0/g)).toHaveLength(3);
    expect(out).toContain(
      "New caution: The rule files have a mistake. The rules that were accepted last are in force.",
    );

    // What is gone has left its topic, and nothing was told twice.
    const cleared = reader.on("sternfast/boat/alarm/oil-lower/0").at(-1);
    expect(cleared?.payload).toBe("");
    const raised = reader.on("sternfast/boat/event").map(({ payload }): Raised =>
      JSON.parse(payload)
    );
    expect(raised.map(({ tag, to }) => `${tag} ${to}`)).toEqual([
      "oil-low unacknowledged",
      "oil-lower unacknowledged",
      "rules-refused acknowledged",
      "rules-refused normal",
      "oil-lowest unacknowledged",
    ]);
    await reader.stop();
    await mosquitto.stop();
  });
});

interface Raised {
  readonly tag: string;
  readonly to: string;
}
