package checks

import "syscall"

// memory is where Linux keeps files in memory.
const memory = "/dev/shm"

// roomy reports whether a file system has a gigabyte left and lets programs be
// run from it. Containers often give this one little room.
func roomy(dir string) bool {
	const least, noExec = 1 << 30, 8 // bytes; ST_NOEXEC of statvfs(3)
	var s syscall.Statfs_t
	if err := syscall.Statfs(dir, &s); err != nil {
		return false
	}
	return s.Flags&noExec == 0 && s.Bavail*uint64(s.Bsize) >= least
}
