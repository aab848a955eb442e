package file

// SetQuickMax changes from which size on pages are looked at beside the committer.
func SetQuickMax(n int64) { quickMax = n }
