// What a reviewer would look at in every file: how it begins, how long it is, what it must not say, where it stands.
import { describe, expect, it } from 'vitest';
import { files, isCode, isGenerated, textOf } from './sources.ts';

const code = files.filter(isCode);

describe('every file of code', () => {
  it('begins with a sentence that says what it is for', () => {
    expect(code.filter(file => !/^[\p{Lu}`@"].*[.?]$/u.test(openingComment(textOf(file))))).toEqual([]);
  });

  it('is short enough to be read', () => {
    /** Longer ones, each with its reason. */
    const long: Readonly<Record<string, string>> = {};
    const lines = (file: string): number => textOf(file).split('\n').length - 1;
    expect(
      code.filter(file => lines(file) > 420 && long[file] === undefined).map(file => `${file}: ${lines(file)}`),
    ).toEqual([]);
    expect(Object.keys(long).filter(file => !code.includes(file) || lines(file) <= 420)).toEqual([]);
  });

  it('leaves no test out', () => {
    const left =
      /\b(?:describe|it|test|suite)(?:\.\w+)*\.(?:only|skip|todo|fails)\b|\b(?:fdescribe|fit|xdescribe|xit|xtest)\(/;
    expect(code.filter(file => left.test(textOf(file)))).toEqual([]);
  });
});

function openingComment(text: string): string {
  const start = text.startsWith('#!') ? text.indexOf('\n') + 1 : 0;
  const block = /^\/\*\*?([\s\S]*?)\*\//.exec(text.slice(start))?.[1];
  const lines = /^(?:\/\/.*\n)+/.exec(text.slice(start))?.[0] ?? '';
  const comment = block?.replace(/^\s*\*/gm, '') ?? lines.replace(/^\/\/ ?/gm, '');
  return (comment.split(/\n\s*\n/)[0] ?? '').replace(/\s+/g, ' ').trim();
}

describe('no file', () => {
  // Put together here, so that this file does not say what it forbids.
  const forbidden: Readonly<Record<string, RegExp>> = {
    'a path of some machine': new RegExp(
      ['(^|[\\s"\'`(=])/(wo', 'rk|ro', 'ot|ho', 'me|Us', 'ers)/\\w|[A-Z]:\\\\\\\\Us', 'ers'].join(''),
      'm',
    ),
    'a registry': new RegExp(['registry\\.npm', 'js|npm', 'js\\.org|pypi\\.org|deb\\.debian'].join(''), 'i'),
    'the number of an issue': /\b(issue|ticket|PR|pull request)s? ?#?\d+|(^|\s)\(?#\d{2,}\b(?!\s*[{;])/im,
    'who wrote it': new RegExp(['\\b(Cla', 'ude|Chat', 'GPT|Co', 'pilot|LL', 'M|as an A', 'I)\\b'].join('')),
    'what is not done': new RegExp(['\\b(TO', 'DO|FIX', 'ME)\\b'].join('')),
  };
  const isText = (file: string): boolean => !/\.(png|vsix|ico|woff2?)$/.test(file);

  it.each(Object.entries(forbidden))('names %s', (_, pattern) => {
    const wrong = files.filter(isText).flatMap(file => {
      const found = pattern.exec(textOf(file));
      return found === null ? [] : [`${file}: ${found[0].trim()}`];
    });
    expect(wrong).toEqual([]);
  });

  it('ends without a line end, or with several', () => {
    const wrong = files.filter(isText).filter(file => textOf(file) !== '' && !/[^\n]\n$/.test(textOf(file)));
    expect(wrong).toEqual([]);
  });
});

describe('the top level', () => {
  it('is as agreed', () => {
    const top = new Set(files.map(file => file.split('/')[0]!));
    expect([...top].filter(name => !name.startsWith('.')).sort()).toEqual([
      'CHANGELOG.md',
      'DEVELOPERS.md',
      'LICENSE',
      'README.md',
      'client',
      'engine',
      'grammar',
      'package-lock.json',
      'package.json',
      'server',
      'test',
      'tsconfig.json',
    ]);
    const dotted = ['.biome.json', '.ci', '.gitattributes', '.github', '.gitignore', '.npmrc'];
    expect([...top].filter(name => name.startsWith('.') && !dotted.includes(name))).toEqual([]);
  });
});

it('what is generated says so, and nothing else does', () => {
  expect(files.filter(isGenerated)).toEqual(['grammar/cst.generated.ts']);
});
