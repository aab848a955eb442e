//go:build linux

package store_test

import (
	"iter"
	"maps"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"unsafe"

	"modernc.org/libc"
	sqlite3 "modernc.org/sqlite/lib"
)

// cutDisk stands between SQLite and the disk and knows, at any moment, what a
// power cut would leave: what was synced, and of what was written since a
// random part, torn at sectors of 512 bytes. A file that was made and never synced
// may be gone with its name, one that was deleted may be back (SQLite syncs the
// directory of a log with the log's first sync, and after a delete where it is
// told to). Reads fail now and then, where that is wanted.
type cutDisk struct {
	mu     sync.Mutex
	dir    string // only files below it are watched
	rand   *rand.Rand
	left   int // operations until the cut
	files  map[string]*cutFile
	byID   map[uintptr]*cutFile
	remain map[string][]byte // what the cut left; nil before it

	readFails int // one read in so many; 0: none
	deleted   map[string]*cutFile
}

type cutFile struct {
	durable []byte
	pending []cutWrite
	fresh   bool // made since the start, and not synced yet
}

// cutWrite puts data at an offset, or cuts the file off there when data is nil.
type cutWrite struct {
	at   int64
	data []byte
}

// theDisk is what SQLite's calls are about; calls from C carry no Go value.
var theDisk struct {
	*cutDisk
	base    sqlite3.Tsqlite3_vfs
	methods map[uintptr]uintptr // of the default layer, to those that watch
}

// watchDisk makes SQLite open files through the layer until the test ends.
func watchDisk(t *testing.T) {
	tls := libc.NewTLS()
	base := sqlite3.Xsqlite3_vfs_find(tls, 0)
	theDisk.base = *(*sqlite3.Tsqlite3_vfs)(pointer(base))
	theDisk.methods = map[uintptr]uintptr{}
	own := libc.Xcalloc(tls, 1, libc.Tsize_t(unsafe.Sizeof(theDisk.base)))
	v := (*sqlite3.Tsqlite3_vfs)(pointer(own))
	*v = theDisk.base
	name, err := libc.CString("cutdisk")
	ok(t, err)
	v.FzName, v.FxOpen, v.FxDelete = name, address(openFile), address(deleteFile)
	sqlite3.Xsqlite3_vfs_register(tls, own, 1)
	t.Cleanup(func() {
		sqlite3.Xsqlite3_vfs_unregister(tls, own)
		sqlite3.Xsqlite3_vfs_register(tls, base, 1)
		theDisk.cutDisk = nil
		libc.Xfree(tls, own)
		libc.Xfree(tls, name)
		tls.Close()
	})
}

// newCutDisk watches a directory; the power fails at the n-th operation.
func newCutDisk(dir string, seed uint64, n int) *cutDisk {
	d := &cutDisk{
		dir: dir, rand: rand.New(rand.NewPCG(seed, 1)), left: n,
		files: map[string]*cutFile{}, byID: map[uintptr]*cutFile{}, deleted: map[string]*cutFile{},
	}
	theDisk.cutDisk = d
	return d
}

// pointer and address turn what C calls a pointer into Go's and back.
func pointer(p uintptr) unsafe.Pointer { return *(*unsafe.Pointer)(unsafe.Pointer(&p)) }

func address[T any](fn T) uintptr { return *(*uintptr)(unsafe.Pointer(&struct{ fn T }{fn})) }

func call[T any](fn uintptr) T { return *(*T)(unsafe.Pointer(&struct{ uintptr }{fn})) }

type (
	openFunc     = func(tls *libc.TLS, vfs, name, file uintptr, flags int32, out uintptr) int32
	deleteFunc   = func(tls *libc.TLS, vfs, name uintptr, sync int32) int32
	readFunc     = func(tls *libc.TLS, file, data uintptr, n int32, at int64) int32
	writeFunc    = func(tls *libc.TLS, file, data uintptr, n int32, at int64) int32
	truncateFunc = func(tls *libc.TLS, file uintptr, size int64) int32
	syncFunc     = func(tls *libc.TLS, file uintptr, flags int32) int32
)

func openFile(tls *libc.TLS, vfs, name, file uintptr, flags int32, out uintptr) int32 {
	d, path := theDisk.cutDisk, ""
	if name != 0 {
		path = libc.GoString(name)
	}
	watched := d != nil && strings.HasPrefix(path, d.dir)
	if watched {
		d.know(path) // before it has locks, which reading it would take away
	}
	rc := call[openFunc](theDisk.base.FxOpen)(tls, vfs, name, file, flags, out)
	if f := (*sqlite3.Tsqlite3_file)(pointer(file)); rc == 0 && watched && f.FpMethods != 0 {
		f.FpMethods = watching(tls, f.FpMethods)
		d.mu.Lock()
		d.byID[file] = d.files[path]
		d.mu.Unlock()
	}
	return rc
}

func (d *cutDisk) know(path string) {
	d.mu.Lock()
	defer d.mu.Unlock()
	if d.files[path] == nil {
		data, err := os.ReadFile(path) // none: an empty one
		d.files[path] = &cutFile{durable: data, fresh: err != nil}
	}
}

// watching gives the methods of an open file with those that change it replaced.
func watching(tls *libc.TLS, base uintptr) uintptr {
	if own := theDisk.methods[base]; own != 0 {
		return own
	}
	own := libc.Xcalloc(tls, 1, libc.Tsize_t(unsafe.Sizeof(sqlite3.Tsqlite3_io_methods{})))
	m := (*sqlite3.Tsqlite3_io_methods)(pointer(own))
	*m = *(*sqlite3.Tsqlite3_io_methods)(pointer(base))
	m.FxWrite, m.FxTruncate, m.FxSync = address(writeFile), address(truncateFile), address(syncFile)
	m.FxRead = address(readFile)
	theDisk.methods[base], theDisk.methods[own] = own, base
	return own
}

// under gives the methods a watched file had.
func under(file uintptr) *sqlite3.Tsqlite3_io_methods {
	own := (*sqlite3.Tsqlite3_file)(pointer(file)).FpMethods
	return (*sqlite3.Tsqlite3_io_methods)(pointer(theDisk.methods[own]))
}

func readFile(tls *libc.TLS, file, data uintptr, n int32, at int64) int32 {
	if theDisk.readFailing() {
		return sqlite3.SQLITE_IOERR_READ
	}
	return call[readFunc](under(file).FxRead)(tls, file, data, n, at)
}

func (d *cutDisk) readFailing() bool {
	d.mu.Lock()
	defer d.mu.Unlock()
	return d.readFails > 0 && d.rand.IntN(d.readFails) == 0
}

func writeFile(tls *libc.TLS, file, data uintptr, n int32, at int64) int32 {
	written := slices.Clone(unsafe.Slice((*byte)(pointer(data)), n))
	if !theDisk.happens(file, cutWrite{at, written}) {
		return sqlite3.SQLITE_IOERR_WRITE
	}
	return call[writeFunc](under(file).FxWrite)(tls, file, data, n, at)
}

func truncateFile(tls *libc.TLS, file uintptr, size int64) int32 {
	if !theDisk.happens(file, cutWrite{at: size}) {
		return sqlite3.SQLITE_IOERR_TRUNCATE
	}
	return call[truncateFunc](under(file).FxTruncate)(tls, file, size)
}

func syncFile(tls *libc.TLS, file uintptr, flags int32) int32 {
	if !theDisk.syncs(file) {
		return sqlite3.SQLITE_IOERR_FSYNC
	}
	return call[syncFunc](under(file).FxSync)(tls, file, flags)
}

func deleteFile(tls *libc.TLS, vfs, name uintptr, sync int32) int32 {
	if d := theDisk.cutDisk; d != nil {
		d.mu.Lock()
		dead := d.remain != nil
		path := libc.GoString(name)
		if f := d.files[path]; f != nil && sync == 0 && !dead {
			d.deleted[path] = f
		}
		delete(d.files, path)
		d.mu.Unlock()
		if dead {
			return sqlite3.SQLITE_IOERR_DELETE
		}
	}
	return call[deleteFunc](theDisk.base.FxDelete)(tls, vfs, name, sync)
}

// happens notes a write, unless the power is off.
func (d *cutDisk) happens(id uintptr, w cutWrite) bool {
	d.mu.Lock()
	defer d.mu.Unlock()
	if d.passes() {
		return false
	}
	f := d.byID[id]
	f.pending = append(f.pending, w)
	return true
}

func (d *cutDisk) syncs(id uintptr) bool {
	d.mu.Lock()
	defer d.mu.Unlock()
	if d.passes() {
		return false
	}
	f := d.byID[id]
	for _, w := range f.pending {
		f.durable = w.on(f.durable)
	}
	f.pending, f.fresh = nil, false
	return true
}

// passes counts an operation and says whether the power is off.
func (d *cutDisk) passes() bool {
	if d.left--; d.left <= 0 && d.remain == nil {
		d.fail()
	}
	return d.remain != nil
}

// cut fails the power now, if it has not failed yet.
func (d *cutDisk) cut() {
	d.mu.Lock()
	defer d.mu.Unlock()
	if d.remain == nil {
		d.fail()
	}
}

// fail keeps what was synced and, of each later write, all, nothing or some
// sectors; at some cuts everything had come through by itself.
func (d *cutDisk) fail() {
	d.remain = map[string][]byte{}
	fates := 3
	if d.rand.IntN(4) == 0 {
		fates = 1
	}
	for path, f := range d.deleted {
		if d.files[path] == nil && d.rand.IntN(2) == 0 {
			d.remain[path] = slices.Clone(f.durable)
		}
	}
	for _, path := range slices.Sorted(maps.Keys(d.files)) {
		f := d.files[path]
		if f.fresh && d.rand.IntN(2) == 0 {
			continue // its name never reached the disk
		}
		data := slices.Clone(f.durable)
		for _, w := range f.pending {
			switch d.rand.IntN(fates) {
			case 0:
				data = w.on(data)
			case 1:
			default:
				for at := 0; at < len(w.data); at += 512 {
					if d.rand.IntN(2) == 0 {
						part := w.data[at:min(at+512, len(w.data))]
						data = cutWrite{w.at + int64(at), part}.on(data)
					}
				}
			}
		}
		d.remain[path] = data
	}
}

func (w cutWrite) on(data []byte) []byte {
	if w.data == nil {
		return data[:min(w.at, int64(len(data)))]
	}
	if need := w.at + int64(len(w.data)); need > int64(len(data)) {
		data = append(data, make([]byte, need-int64(len(data)))...)
	}
	copy(data[w.at:], w.data)
	return data
}

// leave writes what the cut left into another directory.
func (d *cutDisk) leave(t *testing.T, dir string) {
	t.Helper()
	for path, data := range d.remain {
		if len(data) > 0 {
			ok(t, os.WriteFile(filepath.Join(dir, filepath.Base(path)), data, 0o600))
		}
	}
}

// seeds are those of so many cuts: the same ones each time, and more than two thousand
// from a random one on. A program that lost its disk keeps its files open to its end, so a
// process has room for a few thousand cuts; more of them are more runs.
func seeds(t *testing.T, count int) iter.Seq[uint64] {
	first := uint64(0)
	if count > 2000 {
		first = rand.Uint64() >> 1
	}
	t.Logf("%d cuts, the first with seed %d", count, first)
	return func(yield func(uint64) bool) {
		for i := range uint64(count) {
			if !yield(first + i) {
				return
			}
		}
	}
}
