// What costs time to set up and is seldom needed: made when it is first asked for.

/** The classes of all letters, such as `\p{L}`, are what costs in a pattern: a start of the command notices them. */
export function later<Value>(make: () => Value): () => Value {
  let made: { readonly value: Value } | undefined;
  return () => {
    made ??= { value: make() };
    return made.value;
  };
}
