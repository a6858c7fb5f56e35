import { post } from "$lib/api/call";

export interface CountrySupply {
  /** The sentence about the country: name, volts, hertz, plugs. */
  text: string;
  volt: number | null;
  hz: number | null;
  volts: number[];
  frequencies: number[];
  cautions: string[];
}
interface Answer {
  text: string;
  value: {
    nominal_volt: number | null;
    hz: number | null;
    supplies: { nominal_volt: number }[];
    frequencies: number[];
  } | null;
  working: { cautions: string[] };
}

/** What mains a country has. Several voltages or frequencies: null, and a person chooses. */
export async function supplyOf(country: string): Promise<CountrySupply> {
  const { text, value, working } = await post<Answer>("calculators/supplies.country/", { country });
  return {
    text,
    volt: value?.nominal_volt ?? null,
    hz: value?.hz ?? null,
    volts: value?.supplies.map((one) => one.nominal_volt) ?? [],
    frequencies: value?.frequencies ?? [],
    cautions: working.cautions,
  };
}
