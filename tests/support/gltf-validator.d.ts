/** The part used here of a library that comes without types. */
declare module 'gltf-validator' {
  /** @returns what the validator has to say; severity 0 error, 1 warning, 2 information, 3 hint */
  export function validateBytes(bytes: Uint8Array): Promise<{
    readonly issues: { readonly messages: readonly { readonly severity: number; readonly code: string }[] };
  }>;
}
