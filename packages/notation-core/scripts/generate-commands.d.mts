export declare const target: string;
export declare function render(): Promise<string>;
