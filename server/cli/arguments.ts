// Reads the words behind a command; a mistake gives one clear sentence, with the option that was probably meant.
import { nearest } from '../../engine/model/nearest.ts';
import type { Command, Given, Option } from './command.ts';

export type Reading = { readonly ok: true; readonly given: Given } | { readonly ok: false; readonly message: string };

export function readArguments(command: Command, words: readonly string[]): Reading {
  const operands: string[] = [];
  const switches = new Set<string>();
  const values = new Map<string, string>();
  const rest = [...words];
  for (let word = rest.shift(); word !== undefined; word = rest.shift()) {
    if (word === '--') {
      operands.push(...rest.splice(0));
      continue;
    }
    if (!word.startsWith('-') || word === '-') {
      operands.push(word);
      continue;
    }
    const [name, glued] = splitOption(word);
    const option = command.options[name];
    if (option === undefined) return unknownOption(command, name);
    if (option.value === undefined) {
      if (glued !== undefined) return wrong(`The option --${name} takes no value.`);
      switches.add(name);
      continue;
    }
    const value = glued ?? rest.shift();
    const problem = problemWith(name, option, value);
    if (problem !== undefined) return wrong(problem);
    values.set(name, value ?? '');
  }
  if (operands.length < command.leastOperands) return wrong(`Something is missing: ${usage(command)}`);
  if (operands.length > command.mostOperands) {
    return wrong(`"${operands[command.mostOperands]}" is one word too many: ${usage(command)}`);
  }
  return { ok: true, given: { operands, switches, values } };
}

export function usage(command: Command): string {
  return `wattwright ${[command.name, command.operands].filter(Boolean).join(' ')}`;
}

/** The sentence for a word that is none of the known ones. */
export function didYouMean(word: string, known: Iterable<string>, prefix = ''): string {
  const near = nearest(word, known);
  return near === undefined ? '' : ` Did you mean ${prefix}${near}?`;
}

function splitOption(word: string): readonly [string, string | undefined] {
  const bare = word.replace(/^--?/, '');
  const at = bare.indexOf('=');
  return at === -1 ? [bare, undefined] : [bare.slice(0, at), bare.slice(at + 1)];
}

function unknownOption(command: Command, name: string): Reading {
  const known = Object.keys(command.options);
  const suggestion = didYouMean(name, known, '--') || ` It has ${listOptions(known)}.`;
  return wrong(`"${command.name}" has no option --${name}.${suggestion}`);
}

function listOptions(names: readonly string[]): string {
  return names.length === 0 ? 'none' : names.map(name => `--${name}`).join(', ');
}

function problemWith(name: string, option: Option, value: string | undefined): string | undefined {
  const { value: wanted } = option;
  const choices = typeof wanted === 'string' || wanted === undefined ? undefined : wanted;
  if (value === undefined || value === '') {
    return `The option --${name} wants ${choices === undefined ? wanted : `one of ${choices.join(', ')}`} behind it.`;
  }
  if (choices === undefined || choices.includes(value)) return undefined;
  return `--${name} can't be "${value}", only ${either(choices)}.${didYouMean(value, choices)}`;
}

/** `text, json or sarif`. */
function either(choices: readonly string[]): string {
  return [choices.slice(0, -1).join(', '), choices.at(-1)].filter(Boolean).join(' or ');
}

function wrong(message: string): Reading {
  return { ok: false, message };
}
