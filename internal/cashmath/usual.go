package cashmath

import "strings"

// UsualKinds lists two or three kinds of note that cash machines of a currency often hold, highest
// first: what examples and first offers are made of, and nothing else. From memory, no source;
// nil where nothing is known.
func UsualKinds(currencyCode string) (faces []Face) {
	for word := range strings.FieldsSeq(usualKinds[currencyCode]) {
		faces = append(faces, Face(word))
	}
	return faces
}

var usualKinds = map[string]string{
	"AUD": "50 20", "BAM": "100 50 20", "BHD": "20 10 5", "BRL": "100 50 20", "CAD": "50 20",
	"CHF": "100 50 20", "CLP": "20000 10000 5000", "COP": "50000 20000 10000", "CZK": "1000 500 200",
	"DKK": "500 200 100", "EGP": "200 100 50", "EUR": "50 20 10", "GBP": "20 10", "GEL": "100 50 20",
	"GHS": "50 20 10", "HKD": "500 100", "HUF": "20000 10000 5000", "IDR": "100000 50000",
	"ILS": "200 100 50", "INR": "500 200 100", "ISK": "10000 5000 1000", "JOD": "50 20 10",
	"JPY": "10000 1000", "KES": "1000 500 200", "KRW": "50000 10000", "KWD": "20 10 5",
	"MAD": "200 100", "MXN": "500 200 100", "MYR": "100 50 20", "NGN": "1000 500",
	"NOK": "500 200 100", "NZD": "50 20", "OMR": "20 10 5", "PEN": "100 50 20", "PHP": "1000 500 100",
	"PKR": "1000 500", "PLN": "100 50 20", "RON": "100 50 10", "RSD": "2000 1000 500",
	"SAR": "500 100 50", "SEK": "500 200 100", "SGD": "50 10", "THB": "1000 500 100",
	"TND": "50 20 10", "TRY": "200 100 50", "UAH": "500 200 100", "USD": "20 10 5",
	"VND": "500000 200000 100000", "ZAR": "200 100 50",
}
