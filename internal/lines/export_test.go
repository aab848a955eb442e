package lines

// Far is outside a third to three times the usual count.
func Far(n, usual int64) bool { return far(n, usual) }
