import type { BrokerState } from "../../outputs/mqtt/broker-link.ts";

/** Tells a person when the broker is lost and found; a try that fails again is no news. */
export function brokerNews(say: (sentence: string) => void): (state: BrokerState) => void {
  let told: BrokerState["state"] | undefined;
  return (now) => {
    if (now.state === told || (now.state !== "away" && now.state !== "connected")) return;
    told = now.state;
    if (now.state === "connected") say(`Connected to ${now.broker}.`);
    else say(`The broker is away: ${now.why}. It is tried again; nothing that matters is lost.`);
  };
}
