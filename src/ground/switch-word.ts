import { z } from "zod";

/** on, off, yes, no, true and false mean the same in every file; gives true or false. */
export const switchWord = z.literal([true, false, "on", "off", "yes", "no"], {
  error: "yes or no",
}).transform((written) => written === true || written === "on" || written === "yes");
