import {
  ErrorCodes,
  ExitNotification,
  InitializedNotification,
  type InitializeParams,
  InitializeRequest,
  type InitializeResult,
  type ProtocolConnection,
  ResponseError,
  ShutdownRequest,
} from 'vscode-languageserver-protocol';
import { clientFiles } from './client-files.js';
import { FEATURES } from './features/all.js';
import { begin, folderPath } from './features/workspace.js';
import type { Host } from './host.js';
import { chooseEncoding } from './positions.js';
import { Session } from './session.js';
import { version } from './version.js';

/**
 * The server on a connection, which it begins to listen to. `connection` was made with
 * `messageStrategy(...)`, so that work waits while messages wait.
 */
export function startServer(connection: ProtocolConnection, host: Host): Session {
  const session = new Session(connection, host);
  for (const feature of FEATURES) feature.register(session);
  let options: unknown;

  connection.onRequest(InitializeRequest.type, (params) => {
    if (session.state !== 'new') {
      return new ResponseError(ErrorCodes.InvalidRequest, 'initialize comes once, and first.');
    }
    options = initialize(session, params);
    return resultFor(session);
  });

  connection.onNotification(InitializedNotification.type, () => {
    if (session.state !== 'running') return;
    begin(session, options).catch((error: unknown) => session.complain('start', error));
  });

  connection.onRequest(ShutdownRequest.type, () => {
    if (session.state !== 'running') {
      const code = session.state === 'new' ? ErrorCodes.ServerNotInitialized : ErrorCodes.InvalidRequest; // prettier-ignore
      return new ResponseError(code, 'There is nothing to shut down.');
    }
    session.state = 'shutdown';
    return undefined;
  });

  connection.onNotification(ExitNotification.type, () => {
    host.exit(session.state === 'shutdown' ? 0 : 1);
  });
  connection.onClose(() => host.exit(session.state === 'shutdown' ? 0 : 1));

  connection.listen();
  return session;
}

/** Takes what the client says of itself. Returns its settings, for clients that do not answer for them. */
function initialize(session: Session, params: InitializeParams): unknown {
  session.client = params.capabilities;
  session.encoding = chooseEncoding(params.capabilities.general?.positionEncodings);
  // eslint-disable-next-line @typescript-eslint/no-deprecated -- older clients send nothing else
  const { rootUri, workspaceFolders, processId } = params;
  const folders = workspaceFolders?.map(({ uri }) => uri) ?? (rootUri === null ? [] : [rootUri]);
  for (const uri of folders) session.folders.set(folderPath(uri), uri);
  const given: unknown = params.initializationOptions;
  const options = typeof given === 'object' && given !== null ? given : {};
  if (session.files === undefined && 'files' in options && options.files === true) {
    session.files = clientFiles(session);
  }
  if (processId !== null) session.host.watchClient?.(processId);
  session.state = 'running';
  return 'settings' in options ? options.settings : undefined;
}

function resultFor(session: Session): InitializeResult {
  const { client, encoding } = session;
  const capabilities: InitializeResult['capabilities'] = { positionEncoding: encoding };
  for (const feature of FEATURES) {
    const { workspace, ...own } = feature.capabilities?.(client) ?? {};
    Object.assign(capabilities, own);
    if (workspace !== undefined)
      capabilities.workspace = { ...capabilities.workspace, ...workspace };
  }
  return { capabilities, serverInfo: { name: 'tiptoe-lsp', version } };
}
