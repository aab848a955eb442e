package desk

import (
	"slices"
	"strings"

	"shopfloat/internal/chat"
)

// stamp puts the check word of the machine's ledger where a reply asks for it.
func (b *batch) stamp(f chat.Facts, res *chat.Result) error {
	if f.Machine == nil {
		return nil
	}
	for i := range res.Replies {
		body := res.Replies[i].Body
		marked := func(k chat.Block) bool { return strings.Contains(k.Text, chat.CheckMark) }
		if !slices.ContainsFunc(body, marked) {
			continue
		}
		word, err := b.tx.CheckWord(f.Machine.ID)
		if err != nil {
			return err
		}
		body = slices.Clone(body)
		for j := range body {
			body[j].Text = strings.ReplaceAll(body[j].Text, chat.CheckMark, word)
		}
		res.Replies[i].Body = body
	}
	return nil
}
