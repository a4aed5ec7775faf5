import {
  ConfigurationRequest,
  DidChangeConfigurationNotification,
  DidChangeWatchedFilesNotification,
  DidChangeWorkspaceFoldersNotification,
  FileChangeType,
  MessageType,
  type Registration,
  RegistrationRequest,
} from 'vscode-languageserver-protocol';
import { isNote } from '../notes.js';
import { Progress } from '../progress.js';
import type { Session } from '../session.js';
import { isSettings, NO_CONFIGURATION, readConfiguration, SETTINGS_FILE } from '../settings.js';
import { pathOf } from '../uris.js';
import type { Feature } from './feature.js';

/** The folders, the settings and the files beside the open documents. */
export const workspace: Feature = {
  capabilities: () => ({
    workspace: { workspaceFolders: { supported: true, changeNotifications: true } },
  }),
  register(session) {
    const { connection, projects, store } = session;

    connection.onNotification(
      DidChangeWorkspaceFoldersNotification.type,
      async ({ event: { added, removed } }) => {
        for (const { uri } of removed) session.folders.delete(pathOf(uri));
        for (const { uri } of added) session.folders.set(folderPath(uri), uri);
        for (const note of [...projects.notes]) {
          if (!store.open.has(note) && !session.inFolders(note)) forget(session, note);
        }
        await configure(session);
        session.searched = search(session);
        await session.searched;
      },
    );

    connection.onNotification(DidChangeConfigurationNotification.type, async ({ settings }) => {
      await configure(session, settings);
      session.changed(true);
    });

    connection.onNotification(DidChangeWatchedFilesNotification.type, ({ changes }) => {
      for (const { uri, type } of changes) fileChanged(session, pathOf(uri), type);
      session.changed(true);
    });
  },
};

/** What begins once the client is ready to be asked. */
export async function begin(session: Session, options: unknown): Promise<void> {
  await configure(session, options);
  session.searched = search(session);
  session.configured.open();
  session.changed();
  await register(session);
  await session.searched;
}

async function register(session: Session): Promise<void> {
  const { client, connection } = session;
  const registrations: Registration[] = [];
  if (client.workspace?.didChangeWatchedFiles?.dynamicRegistration === true) {
    const watchers = ['**/*.tiptoe', `**/${SETTINGS_FILE}`].map((globPattern) => ({ globPattern }));
    const { method } = DidChangeWatchedFilesNotification.type;
    registrations.push({ id: 'tiptoe-files', method, registerOptions: { watchers } });
  }
  if (client.workspace?.didChangeConfiguration?.dynamicRegistration === true) {
    const { method } = DidChangeConfigurationNotification.type;
    registrations.push({ id: 'tiptoe-settings', method, registerOptions: { section: 'tiptoe' } });
  }
  if (registrations.length === 0) return;
  try {
    await connection.sendRequest(RegistrationRequest.type, { registrations });
  } catch (error) {
    session.complain('registration', error);
  }
}

/** Asks for the section `tiptoe` of each folder, or takes what was sent of it. */
async function configure(session: Session, sent?: unknown): Promise<void> {
  const { client, connection, projects } = session;
  const folders = ['', ...session.folders.keys()];
  let given: unknown[] = folders.map(() => sectionOf(sent));
  if (client.workspace?.configuration === true) {
    const items = folders.map((folder) => {
      const scopeUri = session.folders.get(folder);
      return { section: 'tiptoe', ...(scopeUri === undefined ? {} : { scopeUri }) };
    });
    try {
      given = await connection.sendRequest(ConfigurationRequest.type, { items });
    } catch (error) {
      session.complain('configuration', error);
    }
  }
  projects.configurations.clear();
  const errors = new Set<string>();
  folders.forEach((folder, at) => {
    const read = given[at] === undefined ? NO_CONFIGURATION : readConfiguration(given[at]);
    projects.configurations.set(folder, read);
    for (const error of read.errors) errors.add(error);
  });
  for (const error of errors) session.log(MessageType.Warning, error);
  projects.settingsChanged();
}

/** Clients send all of their settings, or the section by itself. */
function sectionOf(sent: unknown): unknown {
  if (typeof sent !== 'object' || sent === null || !('tiptoe' in sent)) return sent;
  return sent.tiptoe;
}

/** Finds the notes of all folders. */
async function search(session: Session): Promise<void> {
  const { projects, files, folders } = session;
  if (files === undefined || folders.size === 0) return;
  const progress = await Progress.start(session, 'Looking for notes');
  try {
    for (const folder of folders.keys()) {
      for await (const notes of files.list(folder)) {
        if (session.state !== 'running') return;
        for (const note of notes) projects.add(note);
      }
    }
    const notes = [...projects.notes];
    for (const [at, note] of notes.entries()) {
      await session.work.run(reading(), 'rest');
      await projects.load(note);
      progress.at(at + 1, notes.length);
    }
  } catch (error) {
    session.complain('search', error);
  } finally {
    progress.end();
  }
  session.changed(true);
}

/** A place between two files where messages get their turn. */
function* reading(): Generator<void, void, void> {
  yield;
}

/** A file of the disk is new, different or gone. Of open documents the client's text counts. */
export function fileChanged(session: Session, path: string, type: FileChangeType): void {
  const { projects, store } = session;
  if (type === FileChangeType.Deleted && !isNote(path) && !isSettings(path)) {
    // A folder, where the client tells of the folder alone.
    for (const note of [...projects.notes]) {
      if (note.startsWith(`${path}/`)) fileChanged(session, note, type);
    }
    return;
  }
  store.forget(path);
  if (isSettings(path)) projects.settingsChanged();
  if (type === FileChangeType.Deleted) forget(session, path);
  else if (isNote(path) && session.inFolders(path)) projects.add(path);
  projects.touch(path);
}

function forget(session: Session, path: string): void {
  session.store.forget(path);
  if (!session.store.open.has(path)) session.projects.remove(path);
}

export function folderPath(uri: string): string {
  const path = pathOf(uri);
  return path.length > 1 && path.endsWith('/') ? path.slice(0, -1) : path;
}
