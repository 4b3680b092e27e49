package main

import (
	"bytes"
	"errors"
	"fmt"
	"net"
	"net/http"
	"os"
	"os/exec"
	"strings"
	"syscall"
	"time"
)

const patience = 2 * time.Minute // until a start or an answer counts as none

// server is the program, running on a folder.
type server struct {
	address string
	command *exec.Cmd
	said    bytes.Buffer // read once it has ended
	took    time.Duration
}

// serve starts the program and waits for its first good answer.
func serve(program, folder string) (*server, error) {
	port, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		return nil, err
	}
	s := &server{address: port.Addr().String()}
	if err := port.Close(); err != nil {
		return nil, err
	}
	s.command = exec.Command(program, "--data", folder, "--listen", s.address)
	s.command.Stdout, s.command.Stderr = &s.said, &s.said
	began := time.Now()
	if err := s.command.Start(); err != nil {
		return nil, err
	}
	for !s.well() {
		if time.Since(began) > patience {
			return nil, errors.Join(errors.New("the server did not start"), s.stop())
		}
		time.Sleep(time.Millisecond)
	}
	s.took = time.Since(began)
	return s, nil
}

func (s *server) url() string { return "http://" + s.address }

func (s *server) well() bool {
	answer, err := http.Get(s.url() + "/healthz")
	if err != nil {
		return false
	}
	return answer.Body.Close() == nil && answer.StatusCode == http.StatusOK
}

// stop ends it as an operator does.
func (s *server) stop() error {
	if err := s.command.Process.Signal(syscall.SIGTERM); err != nil {
		return err
	}
	if err := s.command.Wait(); err != nil {
		return fmt.Errorf("%w\n%s", err, &s.said)
	}
	return nil
}

// memory is what it holds of the machine's memory, in MB. Pages of the store's file that it has mapped are told apart.
func (s *server) memory() (own, mapped float64, err error) {
	raw, err := os.ReadFile(fmt.Sprintf("/proc/%d/status", s.command.Process.Pid))
	if err != nil {
		return 0, 0, err
	}
	for line := range strings.SplitSeq(string(raw), "\n") {
		name, value, _ := strings.Cut(line, ":")
		var kB float64
		if name != "RssAnon" && name != "RssFile" {
			continue
		}
		if _, err := fmt.Sscan(value, &kB); err != nil {
			return 0, 0, err
		}
		if name == "RssAnon" {
			own = kB / 1024
		} else {
			mapped = kB / 1024
		}
	}
	return own, mapped, nil
}

// worked is the processor time that the server and this program, its clients, have taken so far.
func (s *server) worked() (server, clients time.Duration, err error) {
	raw, err := os.ReadFile(fmt.Sprintf("/proc/%d/stat", s.command.Process.Pid))
	if err != nil {
		return 0, 0, err
	}
	_, after, _ := strings.Cut(string(raw), ") ")
	var ticks [2]time.Duration
	if _, err := fmt.Sscan(strings.Join(strings.Fields(after)[11:13], " "), &ticks[0], &ticks[1]); err != nil {
		return 0, 0, err
	}
	var own syscall.Rusage
	err = syscall.Getrusage(syscall.RUSAGE_SELF, &own)
	return (ticks[0] + ticks[1]) * tick, time.Duration(own.Utime.Nano() + own.Stime.Nano()), err
}

// tick is the kernel's unit of processor time in /proc, the same on every Linux.
const tick = 10 * time.Millisecond

// with runs do against a server on a new world, and leaves neither behind.
func with(p plan, phones, events int, do func(*world, *server) error) (err error) {
	folder, err := os.MkdirTemp("", "jointwalk-bench-")
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, os.RemoveAll(folder)) }()
	w, err := newWorld(folder, phones, events)
	if err != nil {
		return err
	}
	s, err := serve(p.program, folder)
	if err != nil {
		return err
	}
	return errors.Join(do(w, s), s.stop())
}
