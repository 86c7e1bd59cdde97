import { z } from "zod";

z.config({ jitless: true });

/** What a push message carries to the page's service worker, as JSON. */
export const pushPayloadSchema = z.object({
  /** `Hazel Comfort` */
  title: z.string(),
  body: z.string(),
  /** The message's key: the same message twice is shown once. */
  tag: z.string(),
  /** Opened by a touch; left out for the page itself. */
  url: z.url().optional(),
  /** Answers that a button gives. */
  actions: z.array(z.object({ action: z.string(), title: z.string(), url: z.url() })),
  /** ISO 8601 */
  time: z.string(),
});
export type PushPayload = z.infer<typeof pushPayloadSchema>;
