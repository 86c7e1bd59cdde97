import { fileURLToPath } from "node:url";
import { describe, expect, test } from "vitest";
import { complaint } from "./floors.ts";
import { importGraph, sourceFiles } from "./import-graph.ts";

const root = fileURLToPath(new URL("../..", import.meta.url));

describe("the floors of the house", () => {
  test("hold: imports only go down", async () => {
    const graph = await importGraph(root);
    expect(graph.size).toBeGreaterThan(10);
    const complaints = [...graph]
      .filter(([file]) => !file.endsWith(".test.ts"))
      .flatMap(([file, targets]) => targets.map((target) => complaint(file, target)))
      .filter((found) => found !== undefined);
    expect(complaints).toEqual([]);
  });

  test("would be seen to break", () => {
    expect(complaint("src/bus/a.ts", "src/boat/b.ts")).toContain("upwards");
    expect(complaint("src/outputs/mqtt/a.ts", "src/outputs/page/b.ts")).toContain("sideways");
    expect(complaint("src/simulator/a.ts", "src/alarms/b.ts")).toContain("nothing");
    expect(complaint("src/commands/a.ts", "src/alarms/b.ts")).toBeUndefined();
    expect(complaint("src/elsewhere/a.ts", "src/bus/b.ts")).toContain("no room");
  });

  test("hold no circle of files", async () => {
    const graph = await importGraph(root);
    const circles: string[] = [];
    const done = new Set<string>();
    const visit = (file: string, trail: string[]): void => {
      if (trail.includes(file)) {
        circles.push([...trail.slice(trail.indexOf(file)), file].join(" → "));
      }
      if (done.has(file)) return;
      done.add(file);
      for (const target of graph.get(file) ?? []) visit(target, [...trail, file]);
    };
    for (const file of graph.keys()) visit(file, []);
    expect(circles).toEqual([]);
  });
});

describe("the core", () => {
  /** Only these touch the machine: files, sockets, processes, the real clock, chance. */
  const EDGES = [
    /^src\/commands\//,
    /^src\/bus\/(adapters\/.*|open-input|input-bytes|folder-recordings)\.ts$/,
    /^src\/bus\/recordings\/recording-folder\.ts$/,
    /^src\/store\//,
    /^src\/outputs\/mqtt\/(mqtt-outlet|embedded-broker)\.ts$/,
    /^src\/outputs\/phones\/ways\/(http-try|push-way|mail-way)\.ts$/,
    /^src\/outputs\/page\/(page-server|assets)\.ts$/,
  ];

  test("touches no machine, no clock and no chance outside the edge files", async () => {
    const reaching: string[] = [];
    for await (const file of sourceFiles(root)) {
      if (file.endsWith(".test.ts") || EDGES.some((edge) => edge.test(file))) continue;
      const text = (await Deno.readTextFile(`${root}/${file}`))
        .replaceAll(/\/\*[\s\S]*?\*\//g, "").replaceAll(/\/\/.*$/gm, "");
      const found = /\bDeno\.|Date\.now|new Date\(\)|Math\.random|\bsetTimeout\(|\bfetch\(/.exec(
        text,
      );
      if (found !== null) reaching.push(`${file}: ${found[0]}`);
    }
    expect(reaching).toEqual([]);
  });
});
