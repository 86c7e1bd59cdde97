/** Lower case, digits and single hyphens: what may stand in a topic (contract §3). */
export const TOPIC_NAME = /^[a-z0-9]+(?:-[a-z0-9]+)*$/;

/** The topic name that is nearest to a text: `Port Engine` gives `port-engine`. */
export function topicNameFrom(text: string): string | undefined {
  const name = text.normalize("NFKD").replace(/\p{M}/gu, "").toLowerCase()
    .replace(/[^a-z0-9]+/g, "-").replace(/^-|-$/g, "");
  return name === "" ? undefined : name;
}
