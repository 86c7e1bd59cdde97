/** Boxes that some boats of our kind have and ours has not. */
export const EXTRA_BOXES = [
  /** 130316: temperature of both exhaust elbows, instances 0 and 1. */
  "exhaust-senders",
  /** 127493 of both gearboxes. */
  "gearbox-senders",
  /** 130312: the air of the engine room, instance 0. */
  "engine-room-sender",
  /** 127501, instance 1: petrol vapour on indicator 1, carbon monoxide on 2, its own fault on 3. */
  "detectors",
  /** An engine of instance 2. */
  "generator",
] as const;

export type ExtraBox = (typeof EXTRA_BOXES)[number];

/** In what a boat of a story differs from our own as she usually is. */
export interface Aboard {
  /** Two diesels when not given. */
  readonly engines?: "petrol-v8s";
  /** The house bank; LiFePO4 of 400 A.h when not given. */
  readonly house?: { readonly chemistry: "lifepo4" | "agm"; readonly capacity: number };
  /** A of the port alternator at 2,600 rpm; 90 when not given. */
  readonly portAlternator?: number;
  /** Tank senders with reed contacts know only whole steps of 4.5 %. */
  readonly tankSenders?: "reed";
  /** Which bank feeds the bus; the house when not given. */
  readonly busFedBy?: "start";
  /** A deep bilge forward when not given. */
  readonly forwardBilge?: "sump";
  readonly also?: readonly ExtraBox[];
}
