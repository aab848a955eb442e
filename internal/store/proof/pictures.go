package proof

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"shopfloat/internal/store/file"
)

// pictures checks that every photo fetched is there and as it came, and lists
// those that are not: to be fetched yet, or not to be had. An erased one may be gone.
func (v *verifier) pictures(rep *MachineReport) error {
	return v.each(`SELECT a.seq, a.n, p.n IS NOT NULL, p.digest FROM attachment a
		LEFT JOIN picture p ON p.machine = a.machine AND p.seq = a.seq AND p.n = a.n
		WHERE a.machine = ? AND a.photo IS NOT NULL ORDER BY a.seq, a.n`,
		[]any{rep.Machine}, func(row file.Scanner) error {
			var seq, n int64
			var known bool
			var digest []byte
			if err := row.Scan(&seq, &n, &known, &digest); err != nil {
				return err
			}
			switch {
			case !known:
				rep.Absent = append(rep.Absent, fmt.Sprintf("photo %d of entry %d is still to be fetched", n, seq))
			case digest == nil:
				rep.Absent = append(rep.Absent, fmt.Sprintf("photo %d of entry %d could not be fetched", n, seq))
			default:
				return v.picture(rep, seq, n, digest)
			}
			return nil
		})
}

func (v *verifier) picture(rep *MachineReport, seq, n int64, digest []byte) error {
	data, err := os.ReadFile(filepath.Join(v.folder, hex.EncodeToString(digest)))
	sum := sha256.Sum256(data)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		rep.fault("photo %d of entry %d is missing from %s", n, seq, filepath.Base(v.folder))
	case err != nil:
		return err
	case !bytes.Equal(sum[:], digest):
		rep.fault("photo %d of entry %d was changed", n, seq)
	}
	return nil
}
