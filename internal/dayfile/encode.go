package dayfile

import (
	"encoding/json"
	"fmt"
	"io"

	"shopfloat/internal/cashmath"
	"shopfloat/internal/diagnosis"
)

// The written forms; the order of fields is the order in the file.
type (
	result struct {
		Lines         []line           `json:"lines"`
		TotalVariance string           `json:"total_variance"`
		Verdict       cashmath.Verdict `json:"verdict"`
		CreditDue     string           `json:"credit_due"`
		Causes        []cause          `json:"causes"`
	}
	line struct {
		Face          cashmath.Face `json:"face"`
		Expected      int64         `json:"expected"`
		Counted       int64         `json:"counted"`
		VarianceNotes int64         `json:"variance_notes"`
		VarianceValue string        `json:"variance_value"`
	}
	cause struct {
		Rank  int    `json:"rank"`
		Slips []slip `json:"slips"`
	}
	slip struct {
		ID        diagnosis.ID    `json:"id"`
		Face      cashmath.Face   `json:"face,omitempty"`
		OtherFace cashmath.Face   `json:"other_face,omitempty"`
		Field     diagnosis.Field `json:"field,omitempty"`
		Typed     *int64          `json:"typed,omitempty"`
		Likely    *int64          `json:"likely,omitempty"`
		Check     string          `json:"check"`
	}
	refusal struct {
		Error string `json:"error"`
	}
)

// Answer reconciles a day, looks for causes and writes both as one line of JSON.
func Answer(w io.Writer, file File) error {
	reconciled := cashmath.Reconcile(file.Facts.Day)
	currency := file.Currency
	out := result{
		Lines:         []line{},
		TotalVariance: currency.Amount(reconciled.TotalVariance),
		Verdict:       reconciled.Verdict,
		CreditDue:     currency.Amount(reconciled.CreditDue),
		Causes:        []cause{},
	}
	for _, l := range reconciled.Lines {
		value := currency.Amount(l.VarianceValue)
		out.Lines = append(out.Lines, line{l.Face, l.Expected, l.Counted, l.VarianceNotes, value})
	}
	for _, c := range diagnosis.Explain(file.Facts) {
		written := cause{Rank: c.Rank}
		for _, s := range c.Slips {
			written.Slips = append(written.Slips,
				slip{s.ID, s.Face, s.OtherFace, s.Field, s.Typed, s.Likely, s.Check})
		}
		out.Causes = append(out.Causes, written)
	}
	return writeLine(w, out)
}

// Refusal writes an error as one line of JSON in the place of an answer.
func Refusal(w io.Writer, err error) error {
	return writeLine(w, refusal{Error: err.Error()})
}

func writeLine(w io.Writer, value any) error {
	encoder := json.NewEncoder(w) // ends the line itself
	encoder.SetEscapeHTML(false)
	if err := encoder.Encode(value); err != nil {
		return fmt.Errorf("write line: %w", err)
	}
	return nil
}
