//go:build linux

package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"time"

	"golang.org/x/sys/unix"
)

// tick is the unit of /proc/stat: a hundredth of a second on Linux.
const tick = 10 * time.Millisecond

// meter takes differences over a run.
type meter struct {
	bot    *bot
	began  time.Time
	cpu    time.Duration // of the bot
	self   time.Duration // of the stand-in
	all    time.Duration // of everybody on our cores
	fsyncs int
}

func newMeter(b *bot) *meter {
	return &meter{
		bot: b, began: time.Now(), fsyncs: b.fsyncs(),
		cpu: processTime(b.pid), self: processTime(os.Getpid()), all: coreTime(),
	}
}

func (m *meter) read(r *report) {
	r.cpu = processTime(m.bot.pid) - m.cpu
	r.self = processTime(os.Getpid()) - m.self
	others := coreTime() - m.all - r.cpu - r.self
	r.others = others.Seconds() / (time.Since(m.began).Seconds() * float64(len(cores())))
	r.fsyncs = m.bot.fsyncs() - m.fsyncs
	r.traced = m.bot.trace != ""
}

// processTime is the time a process has spent on a core.
func processTime(pid int) time.Duration {
	data, err := os.ReadFile(fmt.Sprintf("/proc/%d/stat", pid))
	if err != nil {
		return 0
	}
	_, rest, _ := strings.Cut(string(data), ") ") // the name may hold spaces
	return sum(strings.Fields(rest)[11:13])       // utime and stime, proc(5)
}

// coreTime is the time that the cores we may use were not idle.
func coreTime() time.Duration {
	data, err := os.ReadFile("/proc/stat")
	if err != nil {
		return 0
	}
	var busy time.Duration
	for _, core := range cores() {
		_, rest, _ := strings.Cut(string(data), "\ncpu"+strconv.Itoa(core)+" ")
		line, _, _ := strings.Cut(rest, "\n")
		if f := strings.Fields(line); len(f) >= 8 {
			busy += sum(f[:3]) + sum(f[5:8]) // without idle and waiting for the disk
		}
	}
	return busy
}

func sum(fields []string) (total time.Duration) {
	for _, f := range fields {
		n, _ := strconv.Atoi(f)
		total += time.Duration(n) * tick
	}
	return total
}

func cores() (list []int) {
	var set unix.CPUSet
	if err := unix.SchedGetaffinity(0, &set); err != nil {
		return nil
	}
	for i := range 1024 {
		if set.IsSet(i) {
			list = append(list, i)
		}
	}
	return list
}

// probe says how often a second 4 KiB can be appended to a file and made durable.
func probe(dir string) (perSecond int, err error) {
	f, err := os.Create(filepath.Join(dir, "probe"))
	if err != nil {
		return 0, err
	}
	defer func() { _ = f.Close() }()
	block := make([]byte, 4096)
	for began := time.Now(); time.Since(began) < time.Second; perSecond++ {
		if _, err := f.Write(block); err != nil {
			return 0, err
		}
		if err := syscall.Fdatasync(int(f.Fd())); err != nil {
			return 0, err
		}
	}
	return perSecond, os.Remove(f.Name())
}
