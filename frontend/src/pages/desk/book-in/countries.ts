/** The countries whose mains supply is in the shop's table (ISO 3166-1 alpha-2). */
export const COUNTRIES = (
  "AD AE AF AL AM AO AR AT AU AZ BA BB BD BE BG BH BO BR BS BY CA CH CI CL CM CN CO CR CU CY " +
  "CZ DE DK DO DZ EC EE EG ES ET FI FJ FR GB GE GH GR GT HK HN HR HU ID IE IL IN IQ IR IS IT " +
  "JM JO JP KE KH KP KR KW KZ LA LB LI LK LT LU LV LY MA MC MD ME MG MK MM MO MT MU MV MX MY " +
  "MZ NA NG NI NL NO NP NZ OM PA PE PG PH PK PL PR PT PY QA RO RS RU SA SE SG SI SK SN SR SV " +
  "SY TH TN TR TT TW TZ UA UG US UY UZ VE VN ZA ZM ZW"
).split(" ");

/** Every country with its name in a language, in the order of the names. */
export function countryNames(language: string): { code: string; name: string }[] {
  const names = new Intl.DisplayNames([language], { type: "region" });
  const found = COUNTRIES.map((code) => ({ code, name: names.of(code) ?? code }));
  return found.sort((a, b) => a.name.localeCompare(b.name, language));
}
