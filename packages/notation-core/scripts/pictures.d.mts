export const PICTURES: Readonly<Record<string, () => string>>;
export function kept(name: string): string;
