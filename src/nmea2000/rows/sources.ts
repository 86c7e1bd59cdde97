/**
 * Where the order of the marine fields comes from. The published lists give no scaling: resolutions,
 * units and periods beside them are from memory.
 */
export const FIELD_LISTS =
  "NMEA 2000 Appendix B.1, parameter group fields v1.301 (order of fields); scaling from memory";

/** Messages that are younger than those lists, or not in them. */
export const FROM_MEMORY = "from memory";

/** The data of engines: the suspect parameter numbers and their scaling. */
export const DIGITAL_ANNEX = "SAE J1939 digital annex, October 2020 (scaling); places from memory";

/** Network management, where ISO 11783-5 and SAE J1939-81 agree. */
export const NAME_LAYOUT = "ISO 11783-5 and SAE J1939-81 (NAME)";

/** Request and acknowledgement. */
export const REQUEST_LAYOUT = "ISO 11783-3 and SAE J1939-21; from memory";

/** Trouble codes and lamps; held against the worked decodes of a published test suite. */
export const DIAGNOSTICS = "SAE J1939-73, from memory";

/** Order from a public list of fields; widths and words are from memory, and rarely seen. */
export const FIELD_LISTS_DOUBTFUL =
  "NMEA 2000 Appendix B.1, parameter group fields v1.301 (order of fields); widths doubtful";
