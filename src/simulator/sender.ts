/** What a sender makes of a value: whole steps, as its own converter has them. */
export function reading(value: number, step: number): number {
  return Math.round(value / step) * step;
}

export function kelvin(celsius: number): number {
  return celsius + 273.15;
}

/** The standard's words for a contact. */
export function onOrOff(closed: boolean): "on" | "off" {
  return closed ? "on" : "off";
}
