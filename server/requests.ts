// Requests that are our own come from anywhere: nothing in them is taken for granted.
import type { Position } from 'vscode-languageserver';

export function stringIn(params: unknown, key: 'uri' | 'name' | 'page'): string | undefined {
  if (typeof params !== 'object' || params === null) return undefined;
  const value: unknown = Reflect.get(params, key);
  return typeof value === 'string' ? value : undefined;
}

/** The cursor, where one is told. */
export function positionIn(params: unknown): Position | undefined {
  if (typeof params !== 'object' || params === null) return undefined;
  const value: unknown = Reflect.get(params, 'position');
  if (typeof value !== 'object' || value === null) return undefined;
  const [line, character]: readonly unknown[] = [Reflect.get(value, 'line'), Reflect.get(value, 'character')];
  const counts = (part: unknown): part is number => Number.isInteger(part) && Number(part) >= 0;
  return counts(line) && counts(character) ? { line, character } : undefined;
}
