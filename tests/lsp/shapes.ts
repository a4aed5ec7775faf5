import { Ajv, type ValidateFunction } from 'ajv';

/**
 * What the server may say, message by message, after the Language Server Protocol 3.17 (Microsoft,
 * specification 3.17.0; 3.18 where a comment says so). Each shape lists every property that
 * it may have: one that is misspelt is as wrong as one that is missing.
 */
type Shape = object;

const text: Shape = { type: 'string' };
const yes: Shape = { type: 'boolean' };
const integer: Shape = { type: 'integer', minimum: -2147483648, maximum: 2147483647 };
const uinteger: Shape = { type: 'integer', minimum: 0, maximum: 2147483647 };
const anything: Shape = {};
const nothing: Shape = { type: 'null' };
const uri: Shape = { type: 'string', pattern: '^[A-Za-z][A-Za-z0-9+.-]*:[^ ]*$' };

function list(of: Shape): Shape {
  return { type: 'array', items: of };
}
function either(...shapes: Shape[]): Shape {
  return { anyOf: shapes };
}
function oneOf(...values: readonly unknown[]): Shape {
  return { enum: values };
}
function upTo(most: number, least = 1): Shape {
  return { type: 'integer', minimum: least, maximum: most };
}
function mapOf(of: Shape): Shape {
  return { type: 'object', additionalProperties: of };
}
/** Properties whose names end in `?` may be missing. */
function object(properties: Record<string, Shape>): Shape {
  const names = Object.keys(properties);
  return {
    type: 'object',
    additionalProperties: false,
    required: names.filter((name) => !name.endsWith('?')),
    properties: Object.fromEntries(
      names.map((name) => [name.replace(/\?$/, ''), properties[name] ?? anything]),
    ),
  };
}

const position = object({ line: uinteger, character: uinteger });
const range = object({ start: position, end: position });
const location = object({ uri, range });
const link = object({
  'originSelectionRange?': range,
  targetUri: uri,
  targetRange: range,
  targetSelectionRange: range,
});
const textEdit = object({ range, newText: text });
const markup = object({ kind: oneOf('plaintext', 'markdown'), value: text });
const token = either(integer, text);

const diagnostic = object({
  range,
  'severity?': upTo(4),
  'code?': either(integer, text),
  'source?': text,
  message: text,
  'tags?': list(upTo(2)),
  'relatedInformation?': list(object({ location, message: text })),
  'data?': anything,
});

const command = object({
  title: text,
  'tooltip?': text,
  command: text,
  'arguments?': list(anything),
});
const documentEdit = object({
  textDocument: object({ uri, version: either(integer, nothing) }),
  edits: list(either(textEdit, object({ range, newText: text, annotationId: text }))),
});
const workspaceEdit = object({
  'changes?': mapOf(list(textEdit)),
  'documentChanges?': list(documentEdit),
  'changeAnnotations?': mapOf(
    object({ label: text, 'needsConfirmation?': yes, 'description?': text }),
  ),
});

const fullReport = object({ kind: oneOf('full'), 'resultId?': text, items: list(diagnostic) });
const unchangedReport = object({ kind: oneOf('unchanged'), resultId: text });
const related = { 'relatedDocuments?': mapOf(either(fullReport, unchangedReport)) };
const version = either(integer, nothing);
const workspaceReport = object({
  items: list(
    either(
      object({ kind: oneOf('full'), 'resultId?': text, items: list(diagnostic), uri, version }),
      object({ kind: oneOf('unchanged'), resultId: text, uri, version }),
    ),
  ),
});

const kinds = upTo(26);
const symbol: Shape = {
  $id: 'symbol',
  ...object({
    name: text,
    'detail?': text,
    kind: kinds,
    'tags?': list(oneOf(1)),
    range,
    selectionRange: range,
    'children?': list({ $ref: 'symbol' }),
  }),
};
const workspaceSymbol = object({
  name: text,
  kind: kinds,
  'tags?': list(oneOf(1)),
  'containerName?': text,
  location,
});

const insertReplace = object({ newText: text, insert: range, replace: range });
const completionItem = object({
  label: text,
  'labelDetails?': object({ 'detail?': text, 'description?': text }),
  'kind?': upTo(25),
  'tags?': list(oneOf(1)),
  'detail?': text,
  'documentation?': either(text, markup),
  'preselect?': yes,
  'sortText?': text,
  'filterText?': text,
  'insertText?': text,
  'insertTextFormat?': upTo(2),
  'insertTextMode?': upTo(2),
  'textEdit?': either(textEdit, insertReplace),
  'textEditText?': text,
  'additionalTextEdits?': list(textEdit),
  'commitCharacters?': list(text),
  'command?': command,
  'data?': anything,
});
const completionList = object({
  isIncomplete: yes,
  'itemDefaults?': object({
    'commitCharacters?': list(text),
    'editRange?': either(range, object({ insert: range, replace: range })),
    'insertTextFormat?': upTo(2),
    'insertTextMode?': upTo(2),
    'data?': anything,
  }),
  items: list(completionItem),
});

const action = object({
  title: text,
  'kind?': text,
  'diagnostics?': list(diagnostic),
  'isPreferred?': yes,
  'disabled?': object({ reason: text }),
  'edit?': workspaceEdit,
  'command?': command,
  'data?': anything,
});
const lens = object({ range, 'command?': command, 'data?': anything });
const hint = object({
  position,
  label: either(
    text,
    list(
      object({
        value: text,
        'tooltip?': either(text, markup),
        'location?': location,
        'command?': command,
      }),
    ),
  ),
  'kind?': upTo(2),
  'textEdits?': list(textEdit),
  'tooltip?': either(text, markup),
  'paddingLeft?': yes,
  'paddingRight?': yes,
  'data?': anything,
});
const documentLink = object({ range, 'target?': uri, 'tooltip?': text, 'data?': anything });
const folding = object({
  startLine: uinteger,
  'startCharacter?': uinteger,
  endLine: uinteger,
  'endCharacter?': uinteger,
  'kind?': oneOf('comment', 'imports', 'region'),
  'collapsedText?': text,
});
const selection: Shape = {
  $id: 'selection',
  ...object({ range, 'parent?': { $ref: 'selection' } }),
};
const callItem = object({
  name: text,
  kind: kinds,
  'tags?': list(oneOf(1)),
  'detail?': text,
  uri,
  range,
  selectionRange: range,
  'data?': anything,
});
const numbers: Shape = list(uinteger);
const tokens = object({ 'resultId?': text, data: numbers });
const delta = object({
  'resultId?': text,
  edits: list(object({ start: uinteger, deleteCount: uinteger, 'data?': numbers })),
});
const signature = object({
  label: text,
  'documentation?': either(text, markup),
  'parameters?': list(
    object({
      label: either(text, { type: 'array', items: uinteger, minItems: 2, maxItems: 2 }),
      'documentation?': either(text, markup),
    }),
  ),
  'activeParameter?': either(uinteger, nothing), // null: 3.18
});

const fileFilter = object({
  filters: list(
    object({
      'scheme?': text,
      pattern: object({ glob: text, 'matches?': oneOf('file', 'folder') }),
    }),
  ),
});
const orYes = (options: Record<string, Shape> = {}): Shape =>
  either(yes, object({ 'workDoneProgress?': yes, ...options }));

const capabilities = object({
  'positionEncoding?': oneOf('utf-8', 'utf-16', 'utf-32'),
  'textDocumentSync?': object({
    'openClose?': yes,
    'change?': upTo(2, 0),
    'willSave?': yes,
    'willSaveWaitUntil?': yes,
    'save?': either(yes, object({ 'includeText?': yes })),
  }),
  'completionProvider?': object({
    'triggerCharacters?': list(text),
    'allCommitCharacters?': list(text),
    'resolveProvider?': yes,
    'completionItem?': object({ 'labelDetailsSupport?': yes }),
    'workDoneProgress?': yes,
  }),
  'hoverProvider?': orYes(),
  'signatureHelpProvider?': object({
    'triggerCharacters?': list(text),
    'retriggerCharacters?': list(text),
    'workDoneProgress?': yes,
  }),
  'declarationProvider?': orYes(),
  'definitionProvider?': orYes(),
  'typeDefinitionProvider?': orYes(),
  'referencesProvider?': orYes(),
  'documentHighlightProvider?': orYes(),
  'documentSymbolProvider?': orYes({ 'label?': text }),
  'codeActionProvider?': orYes({ 'codeActionKinds?': list(text), 'resolveProvider?': yes }),
  'codeLensProvider?': object({ 'resolveProvider?': yes, 'workDoneProgress?': yes }),
  'documentLinkProvider?': object({ 'resolveProvider?': yes, 'workDoneProgress?': yes }),
  'documentFormattingProvider?': orYes(),
  'documentRangeFormattingProvider?': orYes({ 'rangesSupport?': yes }), // rangesSupport: 3.18
  'documentOnTypeFormattingProvider?': object({
    firstTriggerCharacter: text,
    'moreTriggerCharacter?': list(text),
  }),
  'renameProvider?': orYes({ 'prepareProvider?': yes }),
  'foldingRangeProvider?': orYes(),
  'selectionRangeProvider?': orYes(),
  'linkedEditingRangeProvider?': orYes(),
  'callHierarchyProvider?': orYes(),
  'inlayHintProvider?': orYes({ 'resolveProvider?': yes }),
  'semanticTokensProvider?': object({
    legend: object({ tokenTypes: list(text), tokenModifiers: list(text) }),
    'range?': yes,
    'full?': either(yes, object({ 'delta?': yes })),
    'workDoneProgress?': yes,
  }),
  'diagnosticProvider?': object({
    'identifier?': text,
    interFileDependencies: yes,
    workspaceDiagnostics: yes,
    'workDoneProgress?': yes,
  }),
  'workspaceSymbolProvider?': orYes({ 'resolveProvider?': yes }),
  'executeCommandProvider?': object({ commands: list(text), 'workDoneProgress?': yes }),
  'workspace?': object({
    'workspaceFolders?': object({ 'supported?': yes, 'changeNotifications?': either(yes, text) }),
    'fileOperations?': object({
      'willRename?': fileFilter,
      'didRename?': fileFilter,
      'didCreate?': fileFilter,
      'didDelete?': fileFilter,
    }),
  }),
  'experimental?': anything,
});

/** Answers by method. Requests of our own are described in `packages/lsp/PROTOCOL.md`. */
const RESULTS: Readonly<Record<string, Shape>> = {
  initialize: object({ capabilities, serverInfo: object({ name: text, version: text }) }),
  shutdown: nothing,
  'textDocument/diagnostic': either(
    object({ kind: oneOf('full'), 'resultId?': text, items: list(diagnostic), ...related }),
    object({ kind: oneOf('unchanged'), resultId: text, ...related }),
  ),
  'workspace/diagnostic': workspaceReport,
  'workspace/willRenameFiles': either(workspaceEdit, nothing),
  'textDocument/completion': either(list(completionItem), completionList, nothing),
  'completionItem/resolve': completionItem,
  'textDocument/hover': either(object({ contents: markup, 'range?': range }), nothing),
  'textDocument/signatureHelp': either(
    object({
      signatures: list(signature),
      'activeSignature?': uinteger,
      'activeParameter?': either(uinteger, nothing), // null: 3.18
    }),
    nothing,
  ),
  'textDocument/declaration': either(location, list(location), list(link), nothing),
  'textDocument/definition': either(location, list(location), list(link), nothing),
  'textDocument/typeDefinition': either(location, list(location), list(link), nothing),
  'textDocument/references': either(list(location), nothing),
  'textDocument/documentHighlight': either(list(object({ range, 'kind?': upTo(3) })), nothing),
  'textDocument/documentSymbol': either(
    list({ $ref: 'symbol' }),
    list(object({ name: text, kind: kinds, 'containerName?': text, location })),
    nothing,
  ),
  'workspace/symbol': either(list(workspaceSymbol), nothing),
  'textDocument/codeAction': either(list(either(action, command)), nothing),
  'codeAction/resolve': action,
  'textDocument/codeLens': either(list(lens), nothing),
  'codeLens/resolve': lens,
  'textDocument/documentLink': either(list(documentLink), nothing),
  'documentLink/resolve': documentLink,
  'textDocument/formatting': either(list(textEdit), nothing),
  'textDocument/rangeFormatting': either(list(textEdit), nothing),
  'textDocument/rangesFormatting': either(list(textEdit), nothing), // 3.18
  'textDocument/onTypeFormatting': either(list(textEdit), nothing),
  'textDocument/prepareRename': either(
    range,
    object({ range, placeholder: text }),
    object({ defaultBehavior: yes }),
    nothing,
  ),
  'textDocument/rename': either(workspaceEdit, nothing),
  'textDocument/foldingRange': either(list(folding), nothing),
  'textDocument/selectionRange': either(list({ $ref: 'selection' }), nothing),
  'textDocument/linkedEditingRange': either(
    object({ ranges: list(range), 'wordPattern?': text }),
    nothing,
  ),
  'textDocument/prepareCallHierarchy': either(list(callItem), nothing),
  'callHierarchy/incomingCalls': either(
    list(object({ from: callItem, fromRanges: list(range) })),
    nothing,
  ),
  'callHierarchy/outgoingCalls': either(
    list(object({ to: callItem, fromRanges: list(range) })),
    nothing,
  ),
  'textDocument/inlayHint': either(list(hint), nothing),
  'inlayHint/resolve': hint,
  'textDocument/semanticTokens/full': either(tokens, nothing),
  'textDocument/semanticTokens/full/delta': either(tokens, delta, nothing),
  'textDocument/semanticTokens/range': either(tokens, nothing),
  'workspace/executeCommand': anything,
};

/** What the server may send by itself: notifications, and requests to the client. */
const SENT: Readonly<Record<string, Shape>> = {
  'textDocument/publishDiagnostics': object({
    uri,
    'version?': integer,
    diagnostics: list(diagnostic),
  }),
  'window/logMessage': object({ type: upTo(5), message: text }),
  'window/showMessage': object({ type: upTo(5), message: text }),
  'window/workDoneProgress/create': object({ token }),
  '$/progress': object({
    token,
    value: either(
      object({
        kind: oneOf('begin'),
        title: text,
        'cancellable?': yes,
        'message?': text,
        'percentage?': upTo(100, 0),
      }),
      object({
        kind: oneOf('report'),
        'cancellable?': yes,
        'message?': text,
        'percentage?': upTo(100, 0),
      }),
      object({ kind: oneOf('end'), 'message?': text }),
      workspaceReport,
      list(location),
      list(workspaceSymbol),
    ),
  }),
  '$/cancelRequest': object({ id: token }),
  'client/registerCapability': object({
    registrations: list(object({ id: text, method: text, 'registerOptions?': anything })),
  }),
  'client/unregisterCapability': object({
    unregisterations: list(object({ id: text, method: text })),
  }),
  'workspace/configuration': object({
    items: list(object({ 'scopeUri?': uri, 'section?': text })),
  }),
  'workspace/diagnostic/refresh': nothing,
  'workspace/semanticTokens/refresh': nothing,
  'workspace/inlayHint/refresh': nothing,
  'workspace/codeLens/refresh': nothing,
  'workspace/applyEdit': object({ 'label?': text, edit: workspaceEdit }),
};

const ajv = new Ajv({ strict: true, strictTypes: false, allErrors: false });
ajv.addSchema(symbol);
ajv.addSchema(selection);
const compiled = new Map<Shape, ValidateFunction>();

function wrong(shape: Shape, value: unknown): string | undefined {
  const check = compiled.get(shape) ?? ajv.compile(shape);
  compiled.set(shape, check);
  return check(value) ? undefined : ajv.errorsText(check.errors);
}

/** What is wrong with an answer of the server, or undefined. */
export function wrongResult(method: string, result: unknown): string | undefined {
  const shape = RESULTS[method];
  if (shape === undefined) return method.startsWith('tiptoe/') ? undefined : `no shape for answers to ${method}`; // prettier-ignore
  return wrong(shape, result ?? null);
}

/** What is wrong with a request or notification of the server, or undefined. */
export function wrongSent(method: string, params: unknown): string | undefined {
  const shape = SENT[method];
  if (shape === undefined) return method.startsWith('tiptoe/') ? undefined : `the server may not send ${method}`; // prettier-ignore
  return wrong(shape, params ?? null);
}
