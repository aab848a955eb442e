package desk

import (
	"slices"
	"strings"

	"shopfloat/internal/chat"
	"shopfloat/internal/store"
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
		head, err := b.tx.Head(f.Machine.ID)
		if err != nil {
			return err
		}
		body = slices.Clone(body)
		for j := range body {
			body[j].Text = strings.ReplaceAll(body[j].Text, chat.CheckMark, store.CheckWord(head))
		}
		res.Replies[i].Body = body
	}
	return nil
}
