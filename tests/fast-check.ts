// fast-check with a fixed random seed, so that the outcome of the suite does not depend on luck. `npm run properties`
// runs the same properties with fresh seeds; PROPERTY_SEED repeats one of its runs.
import fc from "fast-check";

fc.configureGlobal({ seed: Number(process.env.PROPERTY_SEED ?? 1) });

export default fc;
