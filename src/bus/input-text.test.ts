import { describe, expect, test } from "vitest";
import { type InputMistake, mistakeWords, parseInputText } from "./input-text.ts";

describe("the text of an input", () => {
  test.each([
    ["socketcan:can0", { kind: "socketcan", interface: "can0" }],
    ["slcan:/dev/ttyACM0", { kind: "slcan", device: "/dev/ttyACM0" }],
    ["tcp:boat-gateway:2000", { kind: "tcp", host: "boat-gateway", port: 2000 }],
    ["tcp:[::1]:2000", { kind: "tcp", host: "::1", port: 2000 }],
    ["candump:day.log", { kind: "candump", file: "day.log" }],
    ["pcap:../a b.pcap", { kind: "pcap", file: "../a b.pcap" }],
    ["pcapng:/tmp/x", { kind: "pcapng", file: "/tmp/x" }],
    ["simulator:harbour-day", { kind: "simulator", scenario: "harbour-day" }],
    ["-", { kind: "standard-input" }],
    ["recordings/", { kind: "by-content", file: "recordings/" }],
    ["2026-06-14T10:12.log", { kind: "by-content", file: "2026-06-14T10:12.log" }],
    ["./odd:name", { kind: "by-content", file: "./odd:name" }],
    ["./can1=day.log", { kind: "by-content", file: "./can1=day.log" }],
    ["can1=slcan:/dev/ttyACM0", { kind: "slcan", device: "/dev/ttyACM0", bus: "can1" }],
    ["port-engine=-", { kind: "standard-input", bus: "port-engine" }],
    ["can1=a=b.log", { kind: "by-content", file: "a=b.log", bus: "can1" }],
  ])("%s names one input", (text, input) => {
    expect(parseInputText(text)).toEqual(input);
  });

  test.each([
    ["", "an input"],
    ["can1=", "an input"],
    ["socketcan:", "socketcan:can0"],
    ["socketcan:/dev/can0", "socketcan:can0"],
    ["socketcan:a-name-of-sixteen", "socketcan:can0"],
    ["slcan:", "slcan:/dev/ttyACM0"],
    ["tcp:boat-gateway", "a host and a port"],
    ["tcp:boat-gateway:0", "a host and a port"],
    ["tcp:boat-gateway:65536", "a host and a port"],
    ["candump:", "candump:FILE"],
    ["simulator:", "a scenario"],
  ])("%j is a mistake", (text, expected) => {
    const mistake = parseInputText(text);
    expect(mistake.kind).toBe("mistake");
    expect((mistake as InputMistake).expected).toContain(expected);
  });

  test("with a misspelt kind says which was probably meant", () => {
    const mistake = parseInputText("can1=candmp:day.log") as InputMistake;
    expect(mistakeWords(mistake)).toBe(
      'Input: found "candmp:", expected one of socketcan:, slcan:, tcp:, candump:, pcap:, ' +
        'pcapng:, simulator:, a file or folder, or -; did you mean "candump:"?',
    );
  });

  test("with an unknown kind says what kinds there are", () => {
    expect(mistakeWords(parseInputText("carrier:pigeon") as InputMistake)).toMatch(/, or -\.$/);
  });
});
