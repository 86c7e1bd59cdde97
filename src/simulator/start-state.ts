/** How the boat lies when a story begins. */
export interface StartState {
  /** °C of both engines: cold, or still warm from an earlier trip. */
  readonly engines: number;
  /** Whether the engines' gateways are on the bus before a key is turned. */
  readonly gateways: "talking" | "dark";
  readonly shorePower: boolean;
  /** Shares of 1. */
  readonly house: number;
  readonly battery: number;
  /** L already in the aft bilge. */
  readonly aftBilge: number;
}
