// The whole stylesheet, in the order tokens, page, drawing, print.
import { drawing } from "./drawing.ts";
import { page } from "./page.ts";
import { print } from "./print.ts";
import { tokens } from "./tokens.ts";

export const stylesheet: string = tokens + page + drawing + print;
