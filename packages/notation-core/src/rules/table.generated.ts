// Made by scripts/generate.mjs from the files of the rules. Run `npm run generate`.
import { badSetting } from './game/bad-setting.js';
import { barePause } from './pauses/bare-pause.js';
import { beyondHands } from './hands/beyond-hands.js';
import { brokenUse } from './game/broken-use.js';
import { chooseMisplaced } from './spacing/choose-misplaced.js';
import { conflictingLog } from './positions/conflicting-log.js';
import { countForm } from './spacing/count-form.js';
import { countTooLarge } from './text/count-too-large.js';
import { cueMissing } from './pauses/cue-missing.js';
import { duplicateName } from './names/duplicate-name.js';
import { dwellTooShort } from './game/dwell-too-short.js';
import { gameUnclear } from './names/game-unclear.js';
import { holdForm } from './text/hold-form.js';
import { joinAlone } from './text/join-alone.js';
import { lookAlikes } from './positions/look-alikes.js';
import { mergedPresses } from './hands/merged-presses.js';
import { misspelledWord } from './text/misspelled-word.js';
import { moreProblems } from './text/more-problems.js';
import { needlessJoin } from './spacing/needless-join.js';
import { nestedPause } from './pauses/nested-pause.js';
import { nestedTooDeep } from './text/nested-too-deep.js';
import { neverArrives } from './positions/never-arrives.js';
import { oddWord } from './text/odd-word.js';
import { offGround } from './positions/off-ground.js';
import { opposedDirections } from './hands/opposed-directions.js';
import { outsideWays } from './text/outside-ways.js';
import { partialFrame } from './spacing/partial-frame.js';
import { pauseOverlap } from './pauses/pause-overlap.js';
import { pauseUndeclared } from './game/pause-undeclared.js';
import { phraseInItself } from './names/phrase-in-itself.js';
import { phrasesTooDeep } from './spacing/phrases-too-deep.js';
import { pinch } from './hands/pinch.js';
import { rangeBackwards } from './spacing/range-backwards.js';
import { rangeDiffers } from './positions/range-differs.js';
import { repeatAlone } from './text/repeat-alone.js';
import { repeatedUse } from './names/repeated-use.js';
import { rescueAmbiguous } from './positions/rescue-ambiguous.js';
import { rescueUnreachable } from './positions/rescue-unreachable.js';
import { settleMisplaced } from './spacing/settle-misplaced.js';
import { settleUnknown } from './game/settle-unknown.js';
import { silenceForm } from './silences/silence-form.js';
import { silenceWithoutReason } from './silences/silence-without-reason.js';
import { singleSighting } from './positions/single-sighting.js';
import { somethingMissing } from './text/something-missing.js';
import { spacingUnknown } from './spacing/spacing-unknown.js';
import { strayCloser } from './text/stray-closer.js';
import { strayCount } from './text/stray-count.js';
import { strayText } from './text/stray-text.js';
import { tooLong } from './spacing/too-long.js';
import { unclosedBlock } from './text/unclosed-block.js';
import { unclosedGroup } from './text/unclosed-group.js';
import { unclosedPause } from './text/unclosed-pause.js';
import { unclosedText } from './text/unclosed-text.js';
import { undeclaredInput } from './names/undeclared-input.js';
import { undeclaredSpot } from './names/undeclared-spot.js';
import { unknownLanding } from './positions/unknown-landing.js';
import { unknownName } from './names/unknown-name.js';
import { unprovenStart } from './positions/unproven-start.js';
import { unsettled } from './hands/unsettled.js';
import { untilAlone } from './text/until-alone.js';
import { unusedName } from './names/unused-name.js';
import { unusedSilence } from './silences/unused-silence.js';
import { unusedSpot } from './positions/unused-spot.js';
import { useCycle } from './names/use-cycle.js';
import { useNotFound } from './names/use-not-found.js';
import { windowForm } from './pauses/window-form.js';
import { wrongLanding } from './positions/wrong-landing.js';
import { zeroFrames } from './spacing/zero-frames.js';

/** Every rule by its name. */
export const TABLE = {
  'bad-setting': badSetting,
  'bare-pause': barePause,
  'beyond-hands': beyondHands,
  'broken-use': brokenUse,
  'choose-misplaced': chooseMisplaced,
  'conflicting-log': conflictingLog,
  'count-form': countForm,
  'count-too-large': countTooLarge,
  'cue-missing': cueMissing,
  'duplicate-name': duplicateName,
  'dwell-too-short': dwellTooShort,
  'game-unclear': gameUnclear,
  'hold-form': holdForm,
  'join-alone': joinAlone,
  'look-alikes': lookAlikes,
  'merged-presses': mergedPresses,
  'misspelled-word': misspelledWord,
  'more-problems': moreProblems,
  'needless-join': needlessJoin,
  'nested-pause': nestedPause,
  'nested-too-deep': nestedTooDeep,
  'never-arrives': neverArrives,
  'odd-word': oddWord,
  'off-ground': offGround,
  'opposed-directions': opposedDirections,
  'outside-ways': outsideWays,
  'partial-frame': partialFrame,
  'pause-overlap': pauseOverlap,
  'pause-undeclared': pauseUndeclared,
  'phrase-in-itself': phraseInItself,
  'phrases-too-deep': phrasesTooDeep,
  pinch: pinch,
  'range-backwards': rangeBackwards,
  'range-differs': rangeDiffers,
  'repeat-alone': repeatAlone,
  'repeated-use': repeatedUse,
  'rescue-ambiguous': rescueAmbiguous,
  'rescue-unreachable': rescueUnreachable,
  'settle-misplaced': settleMisplaced,
  'settle-unknown': settleUnknown,
  'silence-form': silenceForm,
  'silence-without-reason': silenceWithoutReason,
  'single-sighting': singleSighting,
  'something-missing': somethingMissing,
  'spacing-unknown': spacingUnknown,
  'stray-closer': strayCloser,
  'stray-count': strayCount,
  'stray-text': strayText,
  'too-long': tooLong,
  'unclosed-block': unclosedBlock,
  'unclosed-group': unclosedGroup,
  'unclosed-pause': unclosedPause,
  'unclosed-text': unclosedText,
  'undeclared-input': undeclaredInput,
  'undeclared-spot': undeclaredSpot,
  'unknown-landing': unknownLanding,
  'unknown-name': unknownName,
  'unproven-start': unprovenStart,
  unsettled: unsettled,
  'until-alone': untilAlone,
  'unused-name': unusedName,
  'unused-silence': unusedSilence,
  'unused-spot': unusedSpot,
  'use-cycle': useCycle,
  'use-not-found': useNotFound,
  'window-form': windowForm,
  'wrong-landing': wrongLanding,
  'zero-frames': zeroFrames,
};
