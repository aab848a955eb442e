package file

import (
	"fmt"
	"strings"

	"shopfloat/internal/filewatch"
)

// Refused is why a file is not opened. Nothing of it, or beside it, was changed.
type Refused struct {
	Case filewatch.Case
	Path string
	text string
}

func (r *Refused) Error() string { return r.text }

// ways are what can be done about a file that is refused.
var ways = map[filewatch.Case]string{
	filewatch.Missing: "FILE is missing or empty, but its log FILE-wal is here, with records in it. " +
		"If FILE was moved, move it back to its log. If it is gone: move FILE-wal, FILE-shm and FILE.mark " +
		"into a folder of their own and keep them, then: bot restore COPY --db FILE",
	filewatch.Parted: "FILE is a link, and FILE-wal or FILE.mark lies beside the link: " +
		"the file was moved without what belongs to it. Move FILE-wal and FILE.mark to where the link leads, " +
		"beside the file and under its name there, or move the file back to the place of the link",
	filewatch.Journal: "FILE-journal is here, and FILE has no such journal: it keeps FILE-wal. " +
		"What is in the journal would be written into FILE. Move FILE-journal away",
	filewatch.Vanished: "FILE is missing or empty, and FILE.mark says that it was in use (INBOX messages " +
		"were taken). If it was moved, name its new place with --db. If it is gone: bot restore COPY --db FILE. " +
		"To begin anew in this place, move FILE.mark away",
	filewatch.Older: "FILE lacks what was confirmed: messages were taken up to number INBOX, " +
		"the file ends at HAVE. If FILE-wal was moved away, put it back. " +
		"If a newer FILE is somewhere, put that here. " +
		"If this is all there is, or it was put here on purpose: bot serve --as-is, and tell people " +
		"to enter again what they did since",
	filewatch.Another: "FILE is not the file that was here: it has other records than FILE.mark tells of. " +
		"If it was put here on purpose: bot serve --as-is. If not, find the right one, " +
		"or: bot restore COPY --db FILE",
}

// refuse says what was found and what can be done.
func refuse(path string, c filewatch.Case, f filewatch.Found) error {
	inbox := int64(0)
	if f.Mark != nil {
		inbox = f.Mark.Inbox
	}
	text := strings.NewReplacer("FILE", path, "INBOX", fmt.Sprint(inbox), "HAVE", fmt.Sprint(f.Heads.Inbox)).
		Replace(ways[c])
	return &Refused{Case: c, Path: path, text: text + ". Nothing was changed."}
}
