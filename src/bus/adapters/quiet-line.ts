/**
 * A connection on which nothing came for so long that it may be dead without saying so: a gateway
 * that loses its power says no goodbye. It is made anew, and nobody hears of it unless that fails,
 * because a network that is switched off is as quiet.
 */
export class QuietLine extends Error {
  override readonly name = "QuietLine";
}
