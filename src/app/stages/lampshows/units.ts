/** A time that was typed in seconds, as the document has it. */
export const typedMs = (seconds: number): number => Math.round(seconds * 1000);
