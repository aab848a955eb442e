package main

// noCountry are codes that ISO 3166-1 only reserves, and countries where nobody keeps a shop.
var noCountry = []string{"AC", "AQ", "BV", "CP", "DG", "EA", "HM", "IC", "TA", "TF", "UM"}

// renamed are names that are newer than the table, from memory.
var renamed = map[string]string{"MK": "North Macedonia", "SZ": "Eswatini",
	"CV": "Cape Verde", "MO": "Macao",
	"HK": "Hong Kong"}

// official are languages of a country beside the likeliest one, from memory.
var official = map[string]string{
	"AF": "ps", "BE": "fr de", "BY": "ru", "CA": "fr", "CH": "fr it rm", "CM": "en", "CY": "tr", "DJ": "ar",
	"ES": "ca eu gl", "FI": "sv", "HK": "en", "IE": "ga", "IL": "ar", "IN": "bn ta te mr gu", "IQ": "ku",
	"KE": "en", "KG": "ru", "KZ": "ru", "LK": "ta", "LU": "lb de", "MA": "fr zgh", "MT": "en", "MY": "en",
	"NG": "ha yo ig", "NO": "nn", "NZ": "mi", "PH": "en", "PK": "en", "PY": "gn", "RS": "sr-Latn", "RW": "en fr",
	"SG": "ms ta zh", "SN": "wo", "TD": "ar", "TN": "fr", "UG": "sw", "UZ": "ru", "VU": "fr en",
	"ZA": "af zu xh", "GB": "cy gd", "BA": "sr hr", "ME": "sr-Latn", "MK": "sq", "XK": "sr",
	"UA": "ru", "EE": "ru", "LV": "ru", "MD": "ru", "DZ": "fr", "EG": "en", "IT": "de", "JO": "en",
}

// short are forms that people write, as they speak of the country, from memory.
var short = map[string]string{
	"AE": "UAE, Emirates", "BA": "Bosnia, Bosna", "CD": "DR Congo, Congo Kinshasa", "CG": "Congo",
	"CH": "Swiss, Helvetia", "CI": "Ivory Coast", "CZ": "Czech Republic, Czech, Česká republika",
	"DE": "FRG, BRD", "DO": "Dominican", "FR": "Republic of France",
	"GB": "UK, Great Britain, Britain, England, Scotland, Wales, Northern Ireland, Ulster, Cymru, Alba",
	"HK": "Hong Kong SAR", "IE": "Republic of Ireland, Eire, ROI",
	"KP": "DPRK", "KR": "Korea, Republic of Korea, ROK", "LK": "Ceylon", "MK": "Macedonia, FYROM", "MM": "Burma",
	"MO": "Macau", "NL": "Holland", "NZ": "Aotearoa", "PS": "Palestine",
	"RU": "Russian Federation", "SK": "Slovak Republic", "SZ": "Swaziland", "TL": "East Timor",
	"TZ": "Tanzania", "US": "USA, America, The States, United States of America", "VA": "Vatican",
	"VN": "Viet Nam", "CV": "Cabo Verde", "AU": "Oz", "SA": "KSA", "ZA": "RSA", "AT": "Oesterreich",
}
