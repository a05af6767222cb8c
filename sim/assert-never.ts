// A compile-time check that a switch covers every case.

/**
 * Ends an exhaustive switch: the compiler reports an error when a case is added but not handled.
 * @throws Error if it is reached at run time, which a type error must have made possible
 */
export function assertNever(value: never): never {
  throw new Error(`a case that was not thought of: ${String(value)}`);
}
