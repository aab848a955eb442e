package guides

import "slices"

// Regions a condition can name besides a country code.
const (
	euroRegion = "euro" // countries that issue euro banknotes
	euRegion   = "EU"   // member states of the European Union
)

// euroArea lists who shares the euro and so the rules on its notes. Twenty
// members in 2023 (ECB, "Countries using the euro") and Bulgaria from
// 1 January 2026 (Council decision of July 2025); both from memory.
var euroArea = []string{
	"AT", "BE", "BG", "CY", "DE", "EE", "ES", "FI", "FR", "GR", "HR",
	"IE", "IT", "LT", "LU", "LV", "MT", "NL", "PT", "SI", "SK",
}

// euOthers are the member states with a currency of their own, from memory.
var euOthers = []string{"CZ", "DK", "HU", "PL", "RO", "SE"}

func inRegion(country, region string) bool {
	switch region {
	case euroRegion:
		return slices.Contains(euroArea, country)
	case euRegion:
		return slices.Contains(euroArea, country) || slices.Contains(euOthers, country)
	}
	return country != "" && country == region
}

func knownRegion(region string) bool {
	if region == euroRegion {
		return true
	}
	if len(region) != 2 {
		return false
	}
	return isUpper(region[0]) && isUpper(region[1])
}

func isUpper(b byte) bool { return b >= 'A' && b <= 'Z' }

// emergencyNumbers are what to ring in danger, by ISO 3166 country code, outside
// the European Union: which service has which number is from memory. That each
// number is an emergency number of its country is checked against the metadata of
// libphonenumber. A country is not listed where the numbers differ from region to
// region, or where memory and that table do not agree.
var emergencyNumbers = map[string]string{
	"AU": "000", "BA": "122 (police), 123 (fire) or 124 (ambulance)", "BH": "999",
	"BR": "190 (police), 193 (fire) or 192 (ambulance)", "CA": "911", "CH": "112",
	"CL": "133 (police), 132 (fire) or 131 (ambulance)", "CO": "123",
	"EG": "122 (police), 180 (fire) or 123 (ambulance)", "GB": "999", "GE": "112",
	"GH": "191 (police), 192 (fire) or 193 (ambulance)", "HK": "999", "ID": "112",
	"IL": "100 (police), 102 (fire) or 101 (ambulance)", "IN": "112", "IS": "112", "JO": "911",
	"JP": "110 (police) or 119 (fire, ambulance)", "KE": "999",
	"KR": "112 (police) or 119 (fire, ambulance)", "KW": "112",
	"MX": "911", "MY": "999", "NO": "112 (police), 110 (fire) or 113 (ambulance)", "NZ": "111", "OM": "9999",
	"PE": "105 (police), 116 (fire) or 117 (ambulance)", "PH": "911", "RS": "112",
	"PK": "15 (police), 16 (fire) or 1122 (ambulance)", "SG": "999 (police) or 995 (fire, ambulance)",
	"TH": "191 (police), 199 (fire) or 1669 (ambulance)",
	"TN": "197 (police), 198 (fire) or 190 (ambulance)", "TR": "112", "UA": "112", "US": "911",
	"VN": "113 (police), 114 (fire) or 115 (ambulance)", "ZA": "10111 (police) or 10177 (fire, ambulance)",
}

// unknownNumber stands where no number is named: a wrong one costs minutes.
const unknownNumber = "your country's emergency number"

// EmergencyNumber returns what to ring in danger, by ISO 3166 country code.
// For a country that is not listed it names no number, since a wrong one costs
// minutes. 112 holds in every member state of the European Union (Directive
// (EU) 2018/1972, article 109).
func EmergencyNumber(country string) string {
	if inRegion(country, euRegion) {
		return "112"
	}
	if number, ok := emergencyNumbers[country]; ok {
		return number
	}
	return unknownNumber
}
