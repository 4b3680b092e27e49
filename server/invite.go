package main

import (
	"context"
	"errors"
	"fmt"
	"net/url"

	"jointwalk/server/people"
)

// invited is what the running server answers to the invite command.
type invited struct {
	Link   string `json:"link,omitempty"`
	Code   string `json:"code,omitempty"`
	Person string `json:"person,omitempty"`
	New    bool   `json:"new,omitempty"`
	Error  string `json:"error,omitempty"`
}

// invite makes a way in for who stands at the server's machine, when every device is lost: the running server makes it.
func invite(ctx context.Context, data string, args []string, g greeting) error {
	var made invited
	running, err := askServer(ctx, data, "invite", url.Values{"name": {args[0]}}, &made)
	switch {
	case err != nil:
		return err
	case !running:
		return fmt.Errorf("no jointwalk runs over %s; start it, then invite (an invitation holds for ten minutes)", data)
	case made.Error != "":
		return errors.New(made.Error)
	}
	who := "one more device of " + made.Person
	if made.New {
		who = made.Person + ", with all duties at all sites"
	}
	g.say("For %s. Open this link once, within 10 minutes, or type the code %s:\n\n  %s", who, made.Code, made.Link)
	g.code(made.Link)
	return nil
}

// inviteNamed invites the person of a name with one more device, or somebody new of that name.
func (h *house) inviteNamed(name string) invited {
	made, err := h.tryInviteNamed(name)
	var fault *people.Fault
	switch {
	case errors.As(err, &fault) && fault.Code == people.BadName:
		return invited{Error: "a name of 1 to 80 characters is needed"}
	case err != nil:
		return invited{Error: err.Error()}
	}
	return made
}

func (h *house) tryInviteNamed(name string) (invited, error) {
	everybody, err := h.people.People()
	if err != nil {
		return invited{}, err
	}
	var known []people.Person
	for _, p := range everybody {
		if p.Name == name && p.Erased.IsZero() {
			known = append(known, p)
		}
	}
	var made people.Invitation
	switch len(known) {
	case 0:
		made, err = h.people.Invite(byMachine, name, people.Everywhere(people.AllDuties()...))
	case 1:
		made, err = h.people.InviteDevice(byMachine, known[0].ID)
	default:
		err = fmt.Errorf("%d people are called %s; invite under a new name, and let that person invite the right one", len(known), name)
	}
	return invited{Link: h.options.public + "/join#" + made.Secret, Code: made.Code, Person: name, New: len(known) == 0}, err
}

// byMachine stands in the audit for who stood at the server's machine.
const byMachine = "machine"
