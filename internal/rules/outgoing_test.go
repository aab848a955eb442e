package rules

// What reads a bank's files and writes a bookkeeper's decides without disk or
// clock, too; the library for it has one home.
func init() {
	pure = append(pure, "settling", "journal", "tally", "monthfile", "workbook", "filed")
	only["github.com/go-pdf/fpdf"] = []string{"internal/filed"}
}
