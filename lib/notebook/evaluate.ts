/** The page, computed with every kind of widget that there is: for the server. */
import type { PageContext } from '@/lib/widgets/definition';
import { definitionOf } from '@/lib/widgets/registry';
import { evaluateWith } from './evaluate-with';
import type { EvaluatedPage, PageContent } from './types';

export const evaluatePage = (content: PageContent, context: PageContext): EvaluatedPage => evaluateWith(definitionOf, content, context);
