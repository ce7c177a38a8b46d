// Changes of the core that alter nothing that can be told, each with the reason.
export const equivalent = [];
