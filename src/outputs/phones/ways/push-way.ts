import { encryptNotification, vapidHeaders } from "@block65/webcrypto-web-push";
import type { Priority } from "../../../alarms/words.ts";
import { DAY, HOUR, type Micros, SECOND } from "../../../ground/time.ts";
import type { PhoneMessage, SendOutcome, Way } from "../way.ts";
import { tryHttp } from "./http-try.ts";
import type { PushSubscription } from "./push-subscription.ts";
import { pushText } from "./push-text.ts";
import type { VapidKeys } from "./vapid-keys.ts";

export interface PushWaySettings {
  readonly name: string;
  /** Devices that have asked to be told, of this person. */
  readonly devices: () => readonly PushSubscription[];
  /** Told of a device whose push service does not know it any more. */
  readonly onGone: (subscription: PushSubscription) => void;
  readonly keys: VapidKeys;
  /** `mailto:ellen@boat.example`: whom a push service may write to (RFC 8292, section 2.1). */
  readonly contact: string;
  /** How long a push service may take to answer. */
  readonly patience?: Micros;
  /** Wall time, to read a date in `Retry-After`. */
  readonly wall: () => Micros;
  /** Left out for the usual one. */
  readonly client?: Deno.HttpClient;
}

/**
 * How much a phone may save its battery (RFC 8030, section 5.3), and for how long a push service
 * keeps what it cannot deliver: later it is no news, and the page tells of it (our judgement).
 */
const HASTE: Readonly<Record<Priority, { urgency: string; keptFor: Micros }>> = {
  "emergency-alarm": { urgency: "high", keptFor: DAY },
  "alarm": { urgency: "high", keptFor: DAY },
  "warning": { urgency: "normal", keptFor: 12 * HOUR },
  "caution": { urgency: "low", keptFor: 4 * HOUR },
};

/** The subscription has ended (RFC 8030, section 7.3; 404 by common practice). */
const GONE = [404, 410];

/**
 * A message to every device of a person by the push service of its browser (RFC 8030), which cannot
 * read it (RFC 8291). It was accepted when one device's service has taken it.
 */
export class PushWay implements Way {
  readonly name: string;

  constructor(readonly settings: PushWaySettings) {
    this.name = settings.name;
  }

  async send(message: PhoneMessage, cut: AbortSignal): Promise<SendOutcome> {
    const devices = this.settings.devices();
    const outcomes = await Promise.all(devices.map((device) => this.#push(device, message, cut)));
    return together(outcomes, message.person);
  }

  async #push(
    device: PushSubscription,
    message: PhoneMessage,
    cut: AbortSignal,
  ): Promise<SendOutcome> {
    const { patience = 15 * SECOND, wall, client, onGone } = this.settings;
    const headers = await this.#headers(device, message);
    const body = await encrypted(device, message);
    if (body === undefined) {
      onGone(device);
      return { kind: "refused", why: "the keys of a device cannot be used" };
    }
    const { status, outcome } = await tryHttp({
      headers,
      body,
      address: device.endpoint,
      method: "POST",
      patience,
      cut,
      wall,
      client,
    });
    if (status === undefined || !GONE.includes(status)) return outcome;
    onGone(device);
    return { kind: "refused", why: "a device has ended its subscription" };
  }

  async #headers(device: PushSubscription, { about, priority, key }: PhoneMessage) {
    const { keys, contact } = this.settings;
    const haste = about === "raised" ? priority : "warning";
    const { urgency, keptFor } = HASTE[about === "daily-line" ? "caution" : haste];
    const vapid = await vapidHeaders(device, { ...keys, subject: contact });
    return {
      ...vapid.headers,
      "content-encoding": "aes128gcm",
      "content-type": "application/octet-stream",
      "ttl": String(keptFor / SECOND),
      "urgency": urgency,
      "topic": key,
    };
  }
}

/** Undefined where the device's keys are none: what it said when it asked cannot be used. */
async function encrypted(
  device: PushSubscription,
  message: PhoneMessage,
): Promise<Uint8Array<ArrayBuffer> | undefined> {
  const text = new TextEncoder().encode(pushText(message));
  try {
    return new Uint8Array(await encryptNotification(device, text));
  } catch {
    return undefined;
  }
}

/** The best that any device's service has answered. */
function together(outcomes: readonly SendOutcome[], person: string): SendOutcome {
  const accepted = outcomes.find(({ kind }) => kind === "accepted");
  if (accepted !== undefined) return accepted;
  const later = outcomes.filter((outcome) => outcome.kind === "try-again");
  if (later.length > 0) {
    const after = Math.min(...later.map((outcome) => outcome.after ?? 0));
    return { kind: "try-again", why: later[0].why, after: after === 0 ? undefined : after };
  }
  return outcomes[0] ?? {
    kind: "refused",
    why:
      `none of ${person}'s devices has asked for it; “Tell this device of alarms” on the page does`,
  };
}
