// Fits the inoculum of tank 3 (Day et al. 2021) with every constant at its default, and prints it: npm run fit:tank3
import { fitInoculum, landmarkNames, landmarks } from "./tank3.ts";

const fit = fitInoculum();
console.log(
  `inoculum: ${fit.share.toExponential(1)} of a mature colony (misses by ${Math.sqrt(fit.inconsistency).toFixed(1)} days in all)`,
);
for (const name of landmarkNames) {
  const { low, high } = landmarks.find(({ event }) => event === name)!;
  console.log(
    `${name.replaceAll("_", " ").padEnd(20)} seen day ${low}${high > low ? ` to ${high}` : ""}, predicted ${fit.days[name].toFixed(1)}`,
  );
}
