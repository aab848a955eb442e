package file

import "testing"

// Numbers as statfs(2) of the Linux man pages and linux/magic.h list them.
func TestNetworkFS(t *testing.T) {
	for kind, want := range map[uint32]string{
		0x6969: "NFS", 0xFF534D42: "SMB", 0xFE534D42: "SMB", 0x517B: "SMB", 0x01021997: "9P", 0x65735546: "FUSE",
		0x5346414F: "AFS", 0x6B414653: "AFS", 0x73757245: "Coda", 0x00C36400: "Ceph", 0x0BD00BD0: "Lustre",
		0x01161970: "GFS2",
		0xEF53:     "", 0x58465342: "", 0x9123683E: "", 0x01021994: "", // ext4, XFS, Btrfs, tmpfs
	} {
		if got := networkFS(kind); got != want {
			t.Errorf("%#x is %q, want %q", kind, got, want)
		}
	}
}
