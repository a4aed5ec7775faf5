import type { ConnectionOptions } from 'vscode-languageserver-protocol';
import type { Work } from './work.js';

/** Lets work know of messages: what waits behind one is looked at before work goes on. */
export function messages(): { readonly options: ConnectionOptions; attach(work: Work): void } {
  let work: Work | undefined;
  return {
    options: {
      messageStrategy: {
        handleMessage(message, next) {
          work?.hold();
          return next(message);
        },
      },
    },
    attach: (attached) => {
      work = attached;
    },
  };
}
