// Exact numbers: ratios of BigInt, rounded once, written as decimals.

/** An exact number.  The lower one is above zero; lowest terms.
 * @typedef {{readonly above: bigint, readonly below: bigint}} Ratio */

/** @param {bigint} above @param {bigint} below not zero @returns {Ratio} */
export function ratio(above, below = 1n) {
  let [a, b] = [above < 0n ? -above : above, below < 0n ? -below : below];
  while (b) [a, b] = [b, a % b];
  const common = below < 0n ? -(a || 1n) : a || 1n;
  return { above: above / common, below: below / common };
}

/** The nearest whole number; half way, the even one.
 * @param {Ratio} value @returns {bigint} */
export function rounded({ above, below }) {
  const floor = above / below - (above % below < 0n ? 1n : 0n);
  const twice = 2n * (above - floor * below);
  return twice > below || (twice === below && floor % 2n !== 0n) ? floor + 1n : floor;
}

/** A whole number of 10^-places as a decimal, without the zeros at its end if `trim`.
 * @param {bigint} scaled @param {number} places @param {boolean} [trim] */
export function decimalText(scaled, places, trim = true) {
  const digits = String(scaled < 0n ? -scaled : scaled).padStart(places + 1, '0');
  let text = places ? `${digits.slice(0, -places)}.${digits.slice(-places)}` : digits;
  if (trim && places) text = text.replace(/\.?0+$/, '');
  return scaled < 0n ? `-${text}` : text;
}
