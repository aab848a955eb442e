package shop

import (
	"slices"
	"strings"
)

// Country holds the defaults that a country gives a new shop.
type Country struct {
	Code     string   // ISO 3166-1 alpha-2
	Name     string   // in English
	Currency string   // ISO 4217
	Zones    []string // IANA names, the most lived in first
}

// countryTable lists a country a line: code, currency, zones, name. Codes are
// those of ISO 3166-1 and ISO 4217, zones those of the IANA table zone1970.tab,
// all from memory; a test loads every zone and looks up every currency.
const countryTable = `
AT EUR Europe/Vienna Austria
AU AUD Australia/Sydney,Australia/Melbourne,Australia/Brisbane,Australia/Perth,Australia/Adelaide Australia
BA BAM Europe/Sarajevo Bosnia and Herzegovina
BE EUR Europe/Brussels Belgium
BG EUR Europe/Sofia Bulgaria
BH BHD Asia/Bahrain Bahrain
BR BRL America/Sao_Paulo,America/Fortaleza,America/Manaus,America/Recife Brazil
CA CAD America/Toronto,America/Vancouver,America/Edmonton,America/Winnipeg,America/Halifax Canada
CH CHF Europe/Zurich Switzerland
CL CLP America/Santiago,America/Punta_Arenas,Pacific/Easter Chile
CO COP America/Bogota Colombia
CY EUR Asia/Nicosia Cyprus
CZ CZK Europe/Prague Czechia
DE EUR Europe/Berlin Germany
DK DKK Europe/Copenhagen Denmark
EE EUR Europe/Tallinn Estonia
EG EGP Africa/Cairo Egypt
ES EUR Europe/Madrid,Atlantic/Canary Spain
FI EUR Europe/Helsinki Finland
FR EUR Europe/Paris France
GB GBP Europe/London United Kingdom
GE GEL Asia/Tbilisi Georgia
GH GHS Africa/Accra Ghana
GR EUR Europe/Athens Greece
HK HKD Asia/Hong_Kong Hong Kong
HR EUR Europe/Zagreb Croatia
HU HUF Europe/Budapest Hungary
ID IDR Asia/Jakarta,Asia/Makassar,Asia/Jayapura Indonesia
IE EUR Europe/Dublin Ireland
IL ILS Asia/Jerusalem Israel
IN INR Asia/Kolkata India
IS ISK Atlantic/Reykjavik Iceland
IT EUR Europe/Rome Italy
JO JOD Asia/Amman Jordan
JP JPY Asia/Tokyo Japan
KE KES Africa/Nairobi Kenya
KR KRW Asia/Seoul South Korea
KW KWD Asia/Kuwait Kuwait
LT EUR Europe/Vilnius Lithuania
LU EUR Europe/Luxembourg Luxembourg
LV EUR Europe/Riga Latvia
MA MAD Africa/Casablanca Morocco
MT EUR Europe/Malta Malta
MX MXN America/Mexico_City,America/Monterrey,America/Tijuana Mexico
MY MYR Asia/Kuala_Lumpur Malaysia
NG NGN Africa/Lagos Nigeria
NL EUR Europe/Amsterdam Netherlands
NO NOK Europe/Oslo Norway
NZ NZD Pacific/Auckland,Pacific/Chatham New Zealand
OM OMR Asia/Muscat Oman
PE PEN America/Lima Peru
PH PHP Asia/Manila Philippines
PK PKR Asia/Karachi Pakistan
PL PLN Europe/Warsaw Poland
PT EUR Europe/Lisbon,Atlantic/Madeira,Atlantic/Azores Portugal
RO RON Europe/Bucharest Romania
RS RSD Europe/Belgrade Serbia
SA SAR Asia/Riyadh Saudi Arabia
SE SEK Europe/Stockholm Sweden
SG SGD Asia/Singapore Singapore
SI EUR Europe/Ljubljana Slovenia
SK EUR Europe/Bratislava Slovakia
TH THB Asia/Bangkok Thailand
TN TND Africa/Tunis Tunisia
TR TRY Europe/Istanbul Turkey
UA UAH Europe/Kyiv Ukraine
US USD America/New_York,America/Chicago,America/Denver,America/Los_Angeles,Pacific/Honolulu United States
VN VND Asia/Ho_Chi_Minh Vietnam
ZA ZAR Africa/Johannesburg South Africa
`

// Countries lists the countries that are known, by code.
func Countries() []Country {
	var list []Country
	for line := range strings.Lines(strings.TrimSpace(countryTable)) {
		parts := strings.SplitN(strings.TrimSpace(line), " ", 4)
		zones := strings.Split(parts[2], ",")
		list = append(list, Country{Code: parts[0], Currency: parts[1], Zones: zones, Name: parts[3]})
	}
	return list
}

// CountryOf finds a country by its code or its English name, whatever the case.
func CountryOf(s string) (Country, bool) {
	s = strings.TrimSpace(s)
	all := Countries()
	i := slices.IndexFunc(all, func(c Country) bool {
		return strings.EqualFold(c.Code, s) || strings.EqualFold(c.Name, s)
	})
	if i < 0 {
		return Country{}, false
	}
	return all[i], true
}
