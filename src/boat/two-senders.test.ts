import { describe, expect, test } from "vitest";
import { TalkingBoat } from "../../tests/support/talking-boat.ts";

/** Two engine gateways, addresses 1 and 2, both at instance 0, ten times a second. */
function alternate(boat: TalkingBoat, from: number, to: number): void {
  for (let tick = Math.round(from * 10); tick < Math.round(to * 10); tick++) {
    boat.say(tick / 10, 127488, { instance: 0, speed: 3000 }, { source: 1 });
    boat.say(tick / 10 + 0.05, 127488, { instance: 0, speed: 700 }, { source: 2 });
  }
}

describe("two engine gateways at instance 0 (situation 1)", () => {
  test("nothing is averaged or alternates: the first one's value stays, uncertain", () => {
    const boat = new TalkingBoat();
    boat.say(0, 127488, { instance: 0, speed: 3000 }, { source: 1 });
    expect(boat.read("engine/0/speed")).toBe("3000 good");
    for (let tick = 1; tick < 50; tick++) {
      const shown = boat.signals.table.values[0];
      boat.say(tick / 10 + 0.05, 127488, { instance: 0, speed: 700 }, { source: 2 });
      expect(boat.read("engine/0/speed")).toBe(`${shown} uncertain two-senders`);
      boat.say(tick / 10 + 0.1, 127488, { instance: 0, speed: 3000 + tick }, { source: 1 });
      expect(boat.read("engine/0/speed")).toBe(`${3000 + tick} uncertain two-senders`);
    }
  });

  test("the condition is as uncertain as the speed", () => {
    const boat = new TalkingBoat();
    alternate(boat, 0, 2);
    expect(boat.read("engine/0/condition")).toBe("running uncertain two-senders");
  });

  test("says so once, and who the two are", () => {
    const boat = new TalkingBoat();
    boat.claim(0, 1, 77);
    boat.claim(0, 2, 78);
    alternate(boat, 0, 5);
    expect(boat.read("engine/0/two-senders")).toBe("1 good");
    expect(boat.changedAt("engine/0/two-senders")).toBe(0.05);
    const [{ group, subject, senders }] = boat.signals.contested();
    expect([group, subject]).toEqual(["engine", "0"]);
    expect(senders.map(({ address }) => address)).toEqual([1, 2]);
    expect(new Set(senders.map(({ name }) => name)).size).toBe(2);
  });

  test("a value that is bad stays bad, not merely uncertain", () => {
    const boat = new TalkingBoat();
    boat.say(0, 127488, { instance: 0, speed: 3000 }, { source: 1 });
    boat.say(0.05, 127488, { instance: 0, speed: 700 }, { source: 2 });
    expect(boat.read("engine/0/trim")).toBe("bad not-available");
  });

  test("two kinds of message about one subject count as one contest", () => {
    const boat = new TalkingBoat();
    for (const source of [1, 2]) {
      boat.say(0, 127488, { instance: 0, speed: 700 }, { source });
      boat.say(0, 127489, { "instance": 0, "oil-pressure": 300_000 }, { source });
    }
    expect(boat.signals.contested()).toHaveLength(2);
    boat.pass(59.9);
    expect(boat.read("engine/0/two-senders")).toBe("1 good");
    boat.pass(60);
    expect(boat.read("engine/0/two-senders")).toBe("0 good");
    expect(boat.signals.contested()).toEqual([]);
  });
});

describe("when one of two has been quiet for a minute", () => {
  test("the second gone: the first is good again at that instant", () => {
    const boat = new TalkingBoat();
    alternate(boat, 0, 1);
    for (let tick = 10; tick < 700; tick++) {
      boat.say(tick / 10, 127488, { instance: 0, speed: 3000 }, { source: 1 });
    }
    expect(boat.read("engine/0/speed")).toBe("3000 good");
    expect(boat.changedAt("engine/0/speed")).toBe(60.95);
    expect(boat.read("engine/0/condition")).toBe("running good");
  });

  test("the first gone: no fail-over before the minute, then the second is believed", () => {
    const boat = new TalkingBoat();
    alternate(boat, 0, 1);
    for (let tick = 10; tick < 609; tick++) {
      boat.say(tick / 10, 127488, { instance: 0, speed: 700 }, { source: 2 });
    }
    expect(boat.read("engine/0/speed")).toBe("3000 uncertain two-senders");
    boat.say(60.91, 127488, { instance: 0, speed: 700 }, { source: 2 });
    expect(boat.read("engine/0/speed")).toBe("700 good");
    expect(boat.read("engine/0/condition")).toBe("idling good");
    expect(boat.read("engine/0/two-senders")).toBe("0 good");
    boat.pass(100);
    expect(boat.read("engine/0/speed")).toBe("bad not-heard");
    expect(boat.changedAt("engine/0/speed")).toBe(61.91);
  });

  test("both gone: not heard once the later one has grown old", () => {
    const boat = new TalkingBoat();
    alternate(boat, 0, 1);
    boat.pass(200);
    expect(boat.read("engine/0/speed")).toBe("bad not-heard");
    expect(boat.changedAt("engine/0/speed")).toBe(1.95);
    expect(boat.changedAt("engine/0/two-senders")).toBe(60.9);
    expect(boat.signals.nextDue).toBe(Infinity);
  });

  test("a second that dies as soon as it is believed is not heard either", () => {
    const boat = new TalkingBoat();
    alternate(boat, 0, 1);
    boat.say(60.8, 127488, { instance: 0, speed: 700 }, { source: 2 });
    boat.pass(200);
    expect(boat.read("engine/0/speed")).toBe("bad not-heard");
    expect(boat.changedAt("engine/0/speed")).toBe(61.8);
  });
});

describe("one sender", () => {
  test("that begins after the first has grown old succeeds it", () => {
    const boat = new TalkingBoat();
    boat.say(0, 127488, { instance: 0, speed: 700 }, { source: 1 });
    boat.say(1, 127488, { instance: 0, speed: 800 }, { source: 2 });
    expect(boat.read("engine/0/speed")).toBe("800 good");
    expect(boat.read("engine/0/two-senders")).toBe("none");
  });

  test("that moves to another address stays one, by its NAME", () => {
    const boat = new TalkingBoat();
    boat.claim(0, 1, 77);
    boat.say(0.1, 127488, { instance: 0, speed: 700 }, { source: 1 });
    boat.claim(0.15, 9, 77);
    boat.say(0.2, 127488, { instance: 0, speed: 710 }, { source: 9 });
    expect(boat.read("engine/0/speed")).toBe("710 good");
  });

  test("that was heard before it claimed its address stays one", () => {
    const boat = new TalkingBoat();
    boat.say(0.1, 127488, { instance: 0, speed: 700 }, { source: 1 });
    boat.claim(0.15, 1, 77);
    boat.say(0.2, 127488, { instance: 0, speed: 710 }, { source: 1 });
    expect(boat.read("engine/0/speed")).toBe("710 good");
  });

  test("of which two swap their addresses keeps its values (situation 3)", () => {
    const boat = new TalkingBoat();
    boat.claim(0, 1, 77);
    boat.claim(0, 2, 78);
    boat.say(0.1, 127488, { instance: 0, speed: 700 }, { source: 1 });
    boat.say(0.1, 127488, { instance: 1, speed: 900 }, { source: 2 });
    boat.claim(0.5, 2, 77);
    boat.claim(0.5, 1, 78);
    boat.say(0.6, 127488, { instance: 0, speed: 710 }, { source: 2 });
    boat.say(0.6, 127488, { instance: 1, speed: 910 }, { source: 1 });
    expect(boat.read("engine/0/speed")).toBe("710 good");
    expect(boat.read("engine/1/speed")).toBe("910 good");
  });

  test("that says two kinds of course carries one speed over ground", () => {
    const boat = new TalkingBoat();
    const say = (at: number, reference: string, speed: number) =>
      boat.say(at, 129026, {
        "course-reference": reference,
        "course-over-ground": 1,
        "speed-over-ground": speed,
      });
    say(0, "true", 3);
    say(0.1, "magnetic", 4);
    say(0.2, "true", 3);
    expect(boat.read("speed/over-ground")).toBe("3 good");
    say(1, "magnetic", 4);
    boat.pass(1.5);
    expect(boat.read("course/over-ground")).toBe("bad not-heard");
    expect(boat.read("speed/over-ground")).toBe("4 good");
  });
});
