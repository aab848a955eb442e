package rules

// What reads a bank's files and writes a bookkeeper's decides without disk or
// clock, too; the libraries for it have one home each. The one that reads workbooks
// is for tests alone: in the program it would be a seventh of its size.
func init() {
	pure = append(pure, "settling", "journal", "tally", "monthfile", "workbook", "filed", "xlsx")
	only["github.com/xuri/excelize/v2"] = nil
	only["github.com/go-pdf/fpdf"] = []string{"internal/filed"}
}
