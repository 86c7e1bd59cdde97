import { fileURLToPath } from "node:url";
import type { Packs } from "../../alarms/rules/packs.ts";

/** The packs that come with the program. */
const FOLDER = fileURLToPath(new URL("../../../rules/", import.meta.url));
const PACK_NAME = /^[a-z0-9-]+$/;

/** Rule packs by name, each read when a rule file asks for it. */
export const RULE_PACKS: Packs = {
  get names() {
    return [...Deno.readDirSync(FOLDER)]
      .filter(({ name }) => name.endsWith(".yaml"))
      .map(({ name }) => name.slice(0, -".yaml".length))
      .sort();
  },
  find(name) {
    if (!PACK_NAME.test(name)) return undefined;
    try {
      return { file: `rules/${name}.yaml`, text: Deno.readTextFileSync(`${FOLDER}${name}.yaml`) };
    } catch (error) {
      if (error instanceof Deno.errors.NotFound) return undefined;
      throw error;
    }
  },
};
