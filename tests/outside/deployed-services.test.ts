import { expect, test } from "vitest";
import { needs } from "../support/needs.ts";
import { ownFolder } from "../support/own-folder.ts";
import { ROOT } from "../support/sternfast.ts";

/** What systemd itself says of the units in `deploy/` (`systemd-analyze verify`, systemd 252). */
needs("systemd")("the units of deploy/", () => {
  async function verify(unit: string, change = (text: string) => text): Promise<string> {
    const text = Deno.readTextFileSync(`${ROOT}/deploy/systemd/${unit}`)
      // It looks for the program, which is elsewhere on this computer.
      .replace("/usr/local/bin/deno", Deno.execPath());
    const folder = ownFolder({ [unit]: change(text) });
    const { stderr } = await new Deno.Command("systemd-analyze", {
      args: ["verify", "--man=no", `${folder}/${unit}`],
    }).output();
    return new TextDecoder().decode(stderr);
  }

  test.each(["sternfast.service", "sternfast-ashore.service"])("%s is sound", async (unit) => {
    expect(await verify(unit)).toBe("");
  });

  test("and one that is not would be told", async () => {
    const said = await verify(
      "sternfast.service",
      (text) => text.replace("RestrictAddressFamilies", "RestrictAdressFamilies"),
    );
    expect(said).toContain("RestrictAdressFamilies");
  });
});
