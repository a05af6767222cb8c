// Storage of the browser (IndexedDB), through a library. If it is not available, the board reports this and continues.
import { createStore, get, set, type UseStore } from "idb-keyval";
import { isStoredScenario, type Sheet, type StoredScenario } from "../core/kept.ts";

export interface Storage {
  sheet(): Promise<Sheet | null>;
  keepSheet(sheet: Sheet): Promise<void>;
  systems(): Promise<readonly StoredScenario[]>;
  keepSystems(list: readonly StoredScenario[]): Promise<void>;
}

const isSheet = (value: unknown): value is Sheet =>
  typeof value === "object" &&
  value !== null &&
  typeof (value as Sheet).text === "string" &&
  typeof (value as Sheet).saved === "string" &&
  Array.isArray((value as Sheet).past);

export function browserStorage(): Storage {
  let store: UseStore | undefined;
  const own = (): UseStore => {
    store ??= createStore("sumpwright-board", "board");
    return store;
  };
  return {
    async sheet() {
      const value: unknown = await get("sheet", own());
      return isSheet(value) ? value : null;
    },
    keepSheet: (sheet) => set("sheet", sheet, own()),
    async systems() {
      const value: unknown = await get("systems", own());
      return Array.isArray(value) ? value.filter(isStoredScenario) : [];
    },
    keepSystems: (list) => set("systems", list, own()),
  };
}
