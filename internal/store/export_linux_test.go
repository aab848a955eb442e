package store

// NetworkFS names a network file system by its number.
func NetworkFS(kind uint32) string { return networkFS(kind) }
