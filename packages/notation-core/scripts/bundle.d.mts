import type { BuildOptions } from 'esbuild';

export declare const commandLine: BuildOptions & { absWorkingDir: string };
export declare const browser: BuildOptions & { absWorkingDir: string };
