package main

import (
	"bytes"
	"errors"
	"fmt"
	"net"
	"net/http"
	"os/exec"
	"path/filepath"
	"regexp"
	"sync"
	"syscall"
	"time"

	"go.etcd.io/bbolt"
)

// process is the server as an operator runs it: the built program on one data folder and one port.
type process struct {
	path    string
	folder  string
	address string        // without scheme
	running *exec.Cmd     // nil before the first start
	ended   chan struct{} // closed once it is gone
	said    *spoken
}

// spoken collects what a process writes.
type spoken struct {
	mu   sync.Mutex
	text bytes.Buffer
}

// Write is io.Writer.
func (s *spoken) Write(p []byte) (int, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.text.Write(p)
}

// String is all that was written so far.
func (s *spoken) String() string {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.text.String()
}

// newProcess takes a free port for a server on that folder; it does not start it.
func newProcess(path, folder string) (*process, error) {
	port, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		return nil, err
	}
	return &process{path: path, folder: folder, address: port.Addr().String()}, port.Close()
}

func (p *process) url() string { return "http://" + p.address }

// launch starts the process and does not wait for it to answer.
func (p *process) launch() error {
	p.said = &spoken{}
	command := exec.Command(p.path, "--data", p.folder, "--listen", p.address)
	command.Stdout, command.Stderr = p.said, p.said
	command.SysProcAttr = &syscall.SysProcAttr{Setpgid: true}
	if err := command.Start(); err != nil {
		return err
	}
	ended := make(chan struct{})
	p.running, p.ended = command, ended
	go func() {
		_ = command.Wait() // how it ended is read off its state
		close(ended)
	}()
	return nil
}

// back waits until /healthz answers well and gives the time since launch was called at began.
func (p *process) back(began time.Time, limit time.Duration) (time.Duration, error) {
	client := http.Client{Timeout: time.Second, Transport: &http.Transport{DisableKeepAlives: true}}
	for {
		answer, err := client.Get(p.url() + "/healthz")
		took := time.Since(began)
		if err == nil {
			err = errors.Join(answer.Body.Close(), wellAnswered(answer.StatusCode))
		}
		if err == nil && took <= limit {
			return took, nil
		}
		if took > limit {
			return took, fmt.Errorf("not back within %v: %w\n%s", limit, errors.Join(err, errLate), p.said)
		}
		select {
		case <-p.ended:
			return took, fmt.Errorf("%w: %v\n%s", errEnded, p.running.ProcessState, p.said)
		case <-time.After(2 * time.Millisecond):
		}
	}
}

var (
	errLate  = errors.New("late")                       // the server did not answer in time
	errEnded = errors.New("the server ended by itself") // and was not killed
)

func wellAnswered(status int) error {
	if status != http.StatusOK {
		return fmt.Errorf("status %d", status)
	}
	return nil
}

// start launches and waits.
func (p *process) start(limit time.Duration) (time.Duration, error) {
	began := time.Now()
	if err := p.launch(); err != nil {
		return 0, err
	}
	return p.back(began, limit)
}

// kill is SIGKILL to the process and all that it started. It returns once the process is gone, with its locks.
func (p *process) kill() error {
	if err := syscall.Kill(-p.running.Process.Pid, syscall.SIGKILL); err != nil && !errors.Is(err, syscall.ESRCH) {
		return err
	}
	<-p.ended
	if status, ok := p.running.ProcessState.Sys().(syscall.WaitStatus); !ok || status.Signal() != syscall.SIGKILL {
		return fmt.Errorf("%w: %v\n%s", errEnded, p.running.ProcessState, p.said)
	}
	return nil
}

// runs says whether there is something to kill.
func (p *process) runs() bool {
	if p.running == nil {
		return false
	}
	select {
	case <-p.ended:
		return false
	default:
		return true
	}
}

// storeFile is the store in the data folder.
const storeFile = "jointwalk.db"

var setupCode = regexp.MustCompile(`/setup#(\S+)`)

// sayTime is within which the terminal shows what it has to say, once the server answers.
const sayTime = 2 * time.Second

// code is the one-time code that the terminal shows, "" when it shows none: it may come a moment after the first answer.
func (p *process) code() string {
	for began := time.Now(); time.Since(began) < sayTime; time.Sleep(5 * time.Millisecond) {
		if found := setupCode.FindStringSubmatch(p.said.String()); found != nil {
			return found[1]
		}
	}
	return ""
}

// check runs bbolt's own check over the file that a killed server left, before anything repairs it.
func (p *process) check() error { return check(filepath.Join(p.folder, storeFile)) }

func check(path string) error {
	db, err := bbolt.Open(path, 0o600, &bbolt.Options{ReadOnly: true, Timeout: time.Second})
	if err != nil {
		return fmt.Errorf("the store left by a kill cannot be opened: %w", err)
	}
	var wrong []error
	err = db.View(func(tx *bbolt.Tx) error {
		for fault := range tx.Check() {
			wrong = append(wrong, fault)
		}
		return errors.Join(wrong...)
	})
	return errors.Join(err, db.Close())
}
