/** The files that are made, by their path in the package, each with what makes its text. */
export declare const MADE_FILES: Readonly<Record<string, () => Promise<string>>>;
export declare function table(): Promise<string>;
export declare function schema(): Promise<string>;
