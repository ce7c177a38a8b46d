/** Thrown when the call or the file cannot be used: one sentence on standard error, exit code 2. */
export class Unusable extends Error {}
