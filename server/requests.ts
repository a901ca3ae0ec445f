// Requests that are our own come from anywhere: nothing in them is taken for granted.

export function stringIn(params: unknown, key: 'uri' | 'name' | 'page'): string | undefined {
  if (typeof params !== 'object' || params === null) return undefined;
  const value: unknown = Reflect.get(params, key);
  return typeof value === 'string' ? value : undefined;
}
