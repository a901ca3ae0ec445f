// Facts and lets of earlier analyses, by the text that they stand in: they serve again where every name in them still
// means what it meant, so that an edit evaluates what it touches.
import type { Expression, Name, Span } from '../../grammar/ast.ts';
import type { Property } from '../kinds/kind.ts';
import type { Evaluated, EvaluationContext } from './evaluated.ts';

/** What an evaluation asked beyond its own text, and what it was told. */
interface Question<Context> {
  readonly asked: (context: Context) => unknown;
  readonly told: unknown;
}

interface Kept<Context, Made> {
  readonly questions: readonly Question<Context>[];
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
  private readonly byNode = new WeakMap<object, Kept<Context, Made>>();

  recallOrMake(node: object, context: Context, make: (context: Context) => Made | undefined): Made | undefined {
    const known = this.byNode.get(node);
    if (known?.questions.every(({ asked, told }) => asked(context) === told) === true) return known.made;
    const questions: Question<Context>[] = [];
    const said = context.report.said;
    const made = make(listening(context, questions));
    if (made === undefined || context.report.said !== said) this.byNode.delete(node);
    else this.byNode.set(node, { questions, made });
    return made;
  }

  /** What was made says the same in other words. */
  replace(node: object, made: Made): void {
    const known = this.byNode.get(node);
    if (known !== undefined) this.byNode.set(node, { ...known, made });
  }
}

/** The same context, with every question put down. */
function listening<Context extends WithReference>(context: Context, questions: Question<Context>[]): Context {
  const ask = <Told>(asked: (context: Context) => Told): Told => {
    const told = asked(context);
    questions.push({ asked, told });
    return told;
  };
  const lookup = (path: readonly Name[], span: Span): Evaluated | undefined => ask(asking => asking.lookup(path, span));
  if (context.reference === undefined) return { ...context, lookup };
  const reference = (expression: Expression, property: Property): string | undefined =>
    ask(asking => asking.reference!(expression, property));
  return { ...context, lookup, reference };
}
