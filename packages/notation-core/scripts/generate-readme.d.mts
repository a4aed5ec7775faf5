export const target: string;
export function render(text?: string): Promise<string>;
