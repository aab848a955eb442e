package books

// Trial is what became of the notes of a test payout.
type Trial struct {
	Where   Place `json:"where,omitempty"`
	Counted bool  `json:"counted,omitempty"` // the machine counted them as paid out
}
