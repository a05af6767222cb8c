// What the compiler must see to be impossible.

/** Ends a switch over all cases: a case that is added and not treated no longer compiles. @throws always, since it cannot be reached */
export function assertNever(value: never): never {
  throw new Error(`a case that was not thought of: ${String(value)}`);
}
