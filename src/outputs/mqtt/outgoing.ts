/** One message for the broker, before it is sent. */
export interface Outgoing {
  /** Below the base topic, unless `absolute`. */
  readonly topic: string;
  /** Empty text clears a retained message. */
  readonly payload: string;
  readonly retain: boolean;
  readonly qos: 0 | 1;
  /** The topic is whole: the response topic that somebody asked for. */
  readonly absolute?: boolean;
  /** MQTT 5: hands back what came with the command that this answers. */
  readonly correlation?: Uint8Array;
}

/** A retained state; `qos` as in the table of topics (contract §4). */
export function retained(topic: string, payload: string, qos: 0 | 1): Outgoing {
  return { topic, payload, retain: true, qos };
}

/** Something that happened: not retained, delivered at least once. */
export function happened(topic: string, payload: string): Outgoing {
  return { topic, payload, retain: false, qos: 1 };
}
