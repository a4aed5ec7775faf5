/** Written in by the bundler from package.json; absent when the sources run unbundled. */
declare const TIPTOE_VERSION: string | undefined;

/** The version of the package, or `development` when run from unbundled sources. */
export const version: string = typeof TIPTOE_VERSION === 'string' ? TIPTOE_VERSION : 'development';
