// Fits the inoculum of tank 3 (Day et al. 2021) with every constant at its default, for several loads and losses that the record allows, and prints
// how well each fits: npm run fit:tank3
import { fitInoculum, landmarkNames, landmarks, type Unknown } from "./tank3.ts";

const cases: readonly (readonly [string, Unknown])[] = [
  ["all nitrogen of day 28 from pellets, none lost", { load: 1, fromDead: 0, plants: 0 }],
  ["half as much", { load: 0.5, fromDead: 0, plants: 0 }],
  ["twice as much", { load: 2, fromDead: 0, plants: 0 }],
  ["half of it from the dead fish", { load: 1, fromDead: 0.5, plants: 0 }],
  ["three quarters from the dead fish", { load: 1, fromDead: 0.75, plants: 0 }],
  ["plants take the nitrogen of the last feeding", { load: 1, fromDead: 0, plants: 1 }],
];
for (const [words, unknown] of cases) {
  const fit = fitInoculum(unknown);
  console.log(
    `${words}: inoculum ${fit.share.toExponential(1)} of a mature colony, misses by ${Math.sqrt(fit.inconsistency).toFixed(1)} days in all`,
  );
  for (const name of landmarkNames) {
    const { low, high } = landmarks.find(({ event }) => event === name)!;
    console.log(
      `  ${name.replaceAll("_", " ").padEnd(20)} seen day ${low}${high > low ? ` to ${high}` : ""}, predicted ${fit.days[name].toFixed(1)}`,
    );
  }
}
