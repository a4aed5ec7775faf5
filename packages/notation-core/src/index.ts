/** The public face of the core: whatever is exported here is the package's promise. */
export {};
