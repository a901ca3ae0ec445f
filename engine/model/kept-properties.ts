// Facts and lets of earlier analyses, by the text that they stand in: they serve again where every name in them still
// means what it meant, so that an edit evaluates what it touches.
import type { Expression, Name, Span } from '../../grammar/ast.ts';
import type { Property } from '../kinds/kind.ts';
import type { Evaluated, EvaluationContext } from './evaluated.ts';

/** What an evaluation asked beyond its own text, and what it was told. No closure: that would keep whoever asked. */
type Question =
  | { readonly path: readonly Name[]; readonly span: Span; readonly told: unknown }
  | { readonly expression: Expression; readonly property: Property; readonly told: unknown };

interface Kept<Made> {
  readonly questions: readonly Question[];
  readonly made: Made;
}

/** A property's facts are looked up with this much more than other expressions. */
interface WithReference extends EvaluationContext {
  readonly reference?: (expression: Expression, property: Property) => string | undefined;
}

/**
 * Remembers what is made of a piece of the syntax tree, which never changes. What was found fault with, or came to
 * nothing, is made anew each time, so that it is said again.
 */
export class Memory<Context extends WithReference, Made> {
  private readonly byNode = new WeakMap<object, Kept<Made>>();

  recallOrMake(node: object, context: Context, make: (context: Context) => Made | undefined): Made | undefined {
    const known = this.byNode.get(node);
    if (known !== undefined && told(known, context)) return known.made;
    const questions: Question[] = [];
    const said = context.report.said;
    const made = make(listening(context, questions));
    if (made === undefined || context.report.said !== said) this.byNode.delete(node);
    else this.byNode.set(node, { questions, made });
    return made;
  }

  /** Whether what is remembered of it asked for names; undefined where nothing is. */
  asks(node: object): boolean | undefined {
    const known = this.byNode.get(node);
    return known && known.questions.length > 0;
  }

  /** The paths of names that it asked for; undefined where it asked for more than these, or nothing is remembered. */
  askedPaths(node: object): readonly (readonly Name[])[] | undefined {
    const paths: (readonly Name[])[] = [];
    for (const question of this.byNode.get(node)?.questions ?? [undefined]) {
      if (question === undefined || !('path' in question)) return undefined;
      paths.push(question.path);
    }
    return paths;
  }

  /** What was made says the same in other words. */
  replace(node: object, made: Made): void {
    const known = this.byNode.get(node);
    if (known !== undefined) this.byNode.set(node, { ...known, made });
  }
}

/** Whether all questions are answered as they were. */
function told({ questions }: Kept<unknown>, context: WithReference): boolean {
  for (const question of questions) if (answer(question, context) !== question.told) return false;
  return true;
}

function answer(question: Question, context: WithReference): unknown {
  return 'path' in question
    ? context.lookup(question.path, question.span)
    : context.reference?.(question.expression, question.property);
}

/** The same context, with every question put down. */
function listening<Context extends WithReference>(context: Context, questions: Question[]): Context {
  const lookup = (path: readonly Name[], span: Span): Evaluated | undefined => {
    const told = context.lookup(path, span);
    questions.push({ path, span, told });
    return told;
  };
  const reference = (expression: Expression, property: Property): string | undefined => {
    const told = context.reference?.(expression, property);
    questions.push({ expression, property, told });
    return told;
  };
  return { ...context, lookup, reference };
}
