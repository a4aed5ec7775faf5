import {
  declaration,
  definition as definitionOf,
  type Targets,
  typeDefinition,
} from '@tiptoe/notation-core/ide/definition';
import {
  DeclarationRequest,
  DefinitionRequest,
  type Location,
  type LocationLink,
  TypeDefinitionRequest,
} from 'vscode-languageserver-protocol';
import type { View } from '../view.js';
import type { Feature } from './feature.js';

/** Where a name is introduced, where it is declared, and the game of an input. */
export const definition: Feature = {
  capabilities: () => ({
    definitionProvider: true,
    declarationProvider: true,
    typeDefinitionProvider: true,
  }),
  register(session) {
    const can = (what: 'definition' | 'declaration' | 'typeDefinition'): boolean =>
      session.client.textDocument?.[what]?.linkSupport === true;
    session.about(DefinitionRequest.type, (view, { position }) =>
      answer(
        view,
        definitionOf(view.analysis, view.path, view.offset(position)),
        can('definition'),
      ),
    );
    session.about(DeclarationRequest.type, (view, { position }) =>
      answer(
        view,
        declaration(view.analysis, view.path, view.offset(position)),
        can('declaration'),
      ),
    );
    session.about(
      TypeDefinitionRequest.type,
      (view, { position }) =>
      answer(view, typeDefinition(view.analysis, view.path, view.offset(position)), can('typeDefinition')), // prettier-ignore
    );
  },
};

function answer(
  view: View,
  found: Targets | undefined,
  links: boolean,
): Location[] | LocationLink[] | null {
  if (found === undefined) return null;
  if (!links) return view.locations(found.targets);
  return found.targets.flatMap((target): LocationLink[] => {
    const name = view.rangeIn(target.path, target);
    const whole = view.rangeIn(target.path, target.whole);
    if (name === undefined || whole === undefined) return [];
    return [
      {
        originSelectionRange: view.range(found.origin),
        targetUri: view.session.uri(target.path),
        targetRange: whole,
        targetSelectionRange: name,
      },
    ];
  });
}
