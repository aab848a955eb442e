package cashmath

import (
	"slices"

	"github.com/shopspring/decimal"
)

// Banknote is one kind of note in circulation and its published measures. A face
// stands twice where two series of different size circulate.
type Banknote struct {
	Face        Face
	LengthMM    decimal.Decimal
	HeightMM    decimal.Decimal
	ThicknessMM decimal.Decimal // zero where no figure is published
}

// Banknotes lists the notes of a currency, or nothing where the currency is not in
// the table. The sources, row by row, stand in testdata/check-values/banknotes.csv,
// against which the test compares every row; rows marked "from memory" there have
// no better one.
func Banknotes(currencyCode string) []Banknote {
	const usThickness = 10922 // 0.0043 inch, the only published thickness
	switch currencyCode {
	case "EUR":
		return []Banknote{
			banknote("5", 12000, 6200, 0),
			banknote("10", 12700, 6700, 0),
			banknote("20", 13300, 7200, 0),
			banknote("50", 14000, 7700, 0),
			banknote("100", 14700, 7700, 0),
			banknote("200", 15300, 7700, 0),
			banknote("100", 14700, 8200, 0),
			banknote("200", 15300, 8200, 0),
			banknote("500", 16000, 8200, 0),
		}
	case "GBP":
		return []Banknote{
			banknote("5", 12500, 6500, 0),
			banknote("10", 13200, 6900, 0),
			banknote("20", 13900, 7300, 0),
			banknote("50", 14600, 7700, 0),
		}
	case "USD":
		return []Banknote{
			banknote("1", 15596, 6629, usThickness),
			banknote("2", 15596, 6629, usThickness),
			banknote("5", 15596, 6629, usThickness),
			banknote("10", 15596, 6629, usThickness),
			banknote("20", 15596, 6629, usThickness),
			banknote("50", 15596, 6629, usThickness),
			banknote("100", 15596, 6629, usThickness),
		}
	case "CHF":
		return []Banknote{
			banknote("10", 12300, 7000, 0),
			banknote("20", 13000, 7000, 0),
			banknote("50", 13700, 7000, 0),
			banknote("100", 14400, 7000, 0),
			banknote("200", 15100, 7000, 0),
			banknote("1000", 15800, 7000, 0),
		}
	case "CAD":
		return []Banknote{
			banknote("5", 15240, 6985, 0),
			banknote("10", 15240, 6985, 0),
			banknote("20", 15240, 6985, 0),
			banknote("50", 15240, 6985, 0),
			banknote("100", 15240, 6985, 0),
		}
	case "AUD":
		return []Banknote{
			banknote("5", 13000, 6500, 0),
			banknote("10", 13700, 6500, 0),
			banknote("20", 14400, 6500, 0),
			banknote("50", 15100, 6500, 0),
			banknote("100", 15800, 6500, 0),
		}
	}
	return nil
}

// banknote takes the sides in hundredths of a millimetre and the thickness in
// hundred-thousandths.
func banknote(face Face, length, height, thickness int64) Banknote {
	return Banknote{
		Face:        face,
		LengthMM:    decimal.New(length, -2),
		HeightMM:    decimal.New(height, -2),
		ThicknessMM: decimal.New(thickness, -5),
	}
}

// Denominations lists the face values of a currency's notes once each, by rising
// value, or nothing where the currency is not in the table of Banknotes.
func Denominations(currencyCode string) []Face {
	var faces []Face
	for _, note := range Banknotes(currencyCode) {
		faces = append(faces, note.Face)
	}
	slices.SortFunc(faces, Face.Cmp)
	return slices.Compact(faces)
}
