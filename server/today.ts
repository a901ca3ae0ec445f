// The date where the person sits; the engine has no clock, so it is told.

/** `2026-11-25`. */
export function localDate(now: Date): string {
  const two = (number: number) => String(number).padStart(2, '0');
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
}
