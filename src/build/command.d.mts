export const commandFile: string;
export function buildCommand(outfile?: string): Promise<void>;
