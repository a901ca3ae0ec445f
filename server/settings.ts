// What the editor lets people choose; everything that comes from outside is looked at before it counts.

export interface EditorSettings {
  /** Findings follow each keystroke; else they change when the file is saved. */
  readonly checkWhileTyping: boolean;
  readonly inlayValues: boolean;
  readonly codeLens: boolean;
}

export const defaultSettings: EditorSettings = { checkWhileTyping: true, inlayValues: true, codeLens: true };

/** Takes what fits from the section `wattwright` of a configuration; the rest stays at its default. */
export function readSettings(configuration: unknown): EditorSettings {
  const section = memberOf(configuration, 'wattwright');
  const flag = (name: keyof EditorSettings, path: readonly string[]): boolean => {
    const value = path.reduce(memberOf, section);
    return typeof value === 'boolean' ? value : defaultSettings[name];
  };
  return {
    checkWhileTyping: flag('checkWhileTyping', ['check', 'whileTyping']),
    inlayValues: flag('inlayValues', ['inlayValues', 'enabled']),
    codeLens: flag('codeLens', ['codeLens', 'enabled']),
  };
}

function memberOf(value: unknown, key: string): unknown {
  return typeof value === 'object' && value !== null ? Reflect.get(value, key) : undefined;
}
