import { expect, test } from "vitest";
import { refuseOneBusTwice } from "./one-bus-twice.ts";

test.each([
  [["socketcan:can0", "socketcan:can0"], "can0"],
  [["can0=tcp:gateway:2000", "socketcan:can0"], "can0"],
  [["a=slcan:/dev/ttyACM0", "trip.log", "a=-"], "a"],
  [["slcan:/dev/ttyACM0", "slcan:/dev/ttyACM0"], "ttyACM0"],
  [[
    "slcan:/dev/serial/by-id/usb-Adapter_of_port",
    "slcan:/dev/serial/by-id/usb-Adapter_of_starboard",
  ], "usb-Adapter_of_"],
])("%j are one bus twice", (inputs, bus) => {
  expect(() => refuseOneBusTwice(inputs)).toThrow(`are both the bus ${bus}; give each a name`);
});

test.each([
  [["socketcan:can0", "socketcan:can1"]],
  [["a=monday.log", "a=tuesday.log"]],
  [["tcp:gateway:2000", "tcp:gateway:2001"]],
  [["slcan:/dev/ttyACM0", "slcan:/dev/ttyACM1", "-"]],
])("%j are not", (inputs) => {
  expect(() => refuseOneBusTwice(inputs)).not.toThrow();
});
