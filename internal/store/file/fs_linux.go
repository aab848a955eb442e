package file

import "syscall"

// networkFS names the file systems that other computers can write to, by the
// numbers of statfs(2). SQLite's write-ahead log needs memory shared between
// its users and locks that hold, which these do not give. FUSE stands for
// sshfs and its like.
func networkFS(kind uint32) string {
	switch kind {
	case 0x6969:
		return "NFS"
	case 0x517B, 0xFF534D42, 0xFE534D42:
		return "SMB"
	case 0x01021997:
		return "9P"
	case 0x65735546:
		return "FUSE"
	case 0x5346414F, 0x6B414653:
		return "AFS"
	case 0x73757245:
		return "Coda"
	case 0x00C36400:
		return "Ceph"
	case 0x0BD00BD0:
		return "Lustre"
	case 0x01161970:
		return "GFS2"
	}
	return ""
}

// fileSystem names the network file system dir lies on; empty for a local disk.
func fileSystem(dir string) (string, error) {
	var s syscall.Statfs_t
	if err := syscall.Statfs(dir, &s); err != nil {
		return "", err
	}
	return networkFS(uint32(s.Type)), nil
}
