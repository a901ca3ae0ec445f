// All checks, in the order in which their findings are worth reading.
import { acVoltageRange } from './ac-voltage-range.ts';
import { altitude } from './altitude.ts';
import { ambientRange } from './ambient-range.ts';
import { assumedByTool } from './assumed-by-tool.ts';
import { batteryCurrent } from './battery-current.ts';
import { blackStartCheck } from './black-start.ts';
import { busVoltage } from './bus-voltage.ts';
import { cableAmpacity } from './cable-ampacity.ts';
import { cableDrop } from './cable-drop.ts';
import { capacitorShareCheck } from './capacitor-share.ts';
import { capacityByRate } from './capacity-by-rate.ts';
import type { Check } from './check.ts';
import { chopperCurrent } from './chopper-current.ts';
import { chopperWindow } from './chopper-window.ts';
import { circulatingCurrent } from './circulating-current.ts';
import { connectedBelowFloor } from './connected-below-floor.ts';
import { controlMarginCheck } from './control-margin.ts';
import { converterLoading } from './converter-loading.ts';
import { converterOverload } from './converter-overload.ts';
import { dcCurrentCheck } from './dc-current.ts';
import { dcTripMargin } from './dc-trip-margin.ts';
import { dcWindow } from './dc-window.ts';
import { dischargeTimeCheck } from './discharge-time.ts';
import { filterCurrent } from './filter-current.ts';
import { harmonicDistortion } from './harmonic-distortion.ts';
import { harmonicLoading } from './harmonic-loading.ts';
import { heatToRoomCheck } from './heat-to-room.ts';
import { impossibleValue } from './impossible-value.ts';
import { linkShareCheck } from './link-share.ts';
import { loadStepCheck } from './load-step.ts';
import { measuringPoint } from './measuring-point.ts';
import { missingFact } from './missing-fact.ts';
import { modulationLimit } from './modulation-limit.ts';
import { motorStartCheck } from './motor-start.ts';
import { noLoadReactive } from './no-load-reactive.ts';
import { outsideCurve } from './outside-curve.ts';
import { packMismatch } from './pack-mismatch.ts';
import { pickedLosses } from './picked-losses.ts';
import { powerShortfall } from './power-shortfall.ts';
import { rechargeTimeCheck } from './recharge-time.ts';
import { requirementCheck } from './requirement.ts';
import { resonanceBandCheck } from './resonance-band.ts';
import { rideThroughCheck } from './ride-through.ts';
import { rippleCurrentCheck } from './ripple-current.ts';
import { shortCircuitRatioCheck } from './short-circuit-ratio.ts';
import { tapChanger } from './tap-changer.ts';
import { temperatureIgnored } from './temperature-ignored.ts';
import { throughput } from './throughput.ts';
import { transformerLoading } from './transformer-loading.ts';
import { transformerSpare } from './transformer-spare.ts';
import { uncontrolledCharging } from './uncontrolled-charging.ts';
import { unsourced } from './unsourced.ts';
import { vectorGroup } from './vector-group.ts';
import { voltageChangeCheck } from './voltage-change.ts';
import { voltageReserveCheck } from './voltage-reserve.ts';
import { windingMismatch } from './winding-mismatch.ts';

/** `outsideCurve` stands last: it tells what the others asked of the curves. */
export const checks: readonly Check[] = [
  uncontrolledCharging,
  connectedBelowFloor,
  controlMarginCheck,
  voltageReserveCheck,
  dcWindow,
  dcTripMargin,
  rideThroughCheck,
  chopperWindow,
  acVoltageRange,
  cableDrop,
  voltageChangeCheck,
  windingMismatch,
  busVoltage,
  measuringPoint,
  shortCircuitRatioCheck,
  tapChanger,
  vectorGroup,
  modulationLimit,
  converterLoading,
  converterOverload,
  transformerLoading,
  harmonicLoading,
  transformerSpare,
  batteryCurrent,
  dcCurrentCheck,
  chopperCurrent,
  linkShareCheck,
  cableAmpacity,
  circulatingCurrent,
  packMismatch,
  filterCurrent,
  loadStepCheck,
  motorStartCheck,
  blackStartCheck,
  dischargeTimeCheck,
  powerShortfall,
  rechargeTimeCheck,
  throughput,
  capacityByRate,
  resonanceBandCheck,
  capacitorShareCheck,
  rippleCurrentCheck,
  harmonicDistortion,
  noLoadReactive,
  altitude,
  ambientRange,
  heatToRoomCheck,
  impossibleValue,
  pickedLosses,
  missingFact,
  assumedByTool,
  unsourced,
  temperatureIgnored,
  requirementCheck,
  outsideCurve,
];
