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

// EmergencyNumber returns what to ring in danger, by ISO 3166 country code.
// For a country that is not listed it names no number, since a wrong one costs
// minutes. 112 holds in every member state of the European Union (Directive
// (EU) 2018/1972, article 109); 999, 911, 111 and 000 are the national numbers.
func EmergencyNumber(country string) string {
	switch country {
	case "GB":
		return "999"
	case "US", "CA":
		return "911"
	case "NZ":
		return "111"
	case "AU":
		return "000"
	case "CH", "NO", "IS":
		return "112"
	}
	if inRegion(country, euRegion) {
		return "112"
	}
	return "your country's emergency number"
}
