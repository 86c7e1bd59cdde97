/** What scenarios call the parts of our boat. */
export type Side = "port" | "starboard";
export type EngineName = Side | "generator";
export type BilgeName = "aft" | "forward";
export type TankName = "fuel-port" | "fuel-starboard" | "water" | "holding";
