/** Sums of money in minor units of a currency: whole numbers, so that no penny is lost on the way. */

/** Digits behind the point: 2 for pounds, 0 for yen, 3 for dinars. */
const digitsOf = (currency: string): number =>
  new Intl.NumberFormat('en-GB', { style: 'currency', currency }).resolvedOptions().maximumFractionDigits ?? 2;

/** Whether it is the code of a currency in use, such as GBP (ISO 4217). */
export const isCurrency = (code: string): boolean => Intl.supportedValuesOf('currency').includes(code);

/** Minor units as money: 220 → £2.20. */
export const money = (minor: number, currency: string): string =>
  new Intl.NumberFormat('en-GB', { style: 'currency', currency }).format(minor / 10 ** digitsOf(currency));

/** Minor units as somebody would type them: 220 → 2.20. */
export const typedMoney = (minor: number, currency: string): string => (minor / 10 ** digitsOf(currency)).toFixed(digitsOf(currency));

/** What was typed, `2.20` or `2,2`, in minor units; null when it is no sum of this currency. */
export function readMoney(text: string, currency: string): number | null {
  const digits = digitsOf(currency);
  const [, whole, part = ''] = /^\s*(\d{1,7})(?:[.,](\d+))?\s*$/.exec(text) ?? [];
  if (whole === undefined || part.length > digits) return null;
  return Number(whole + part.padEnd(digits, '0'));
}
