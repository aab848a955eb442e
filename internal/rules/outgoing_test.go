package rules

// What reads a bank's files and writes a bookkeeper's decides without disk or
// clock, too; the libraries for it have one home each.
func init() {
	pure = append(pure, "settling", "journal", "tally", "monthfile", "workbook", "filed")
	only["github.com/xuri/excelize/v2"] = []string{"internal/workbook"}
	only["github.com/go-pdf/fpdf"] = []string{"internal/filed"}
}
