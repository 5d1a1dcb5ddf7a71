package main

import (
	"fmt"
	"runtime/debug"

	"hotlug/engine/graph"
)

// version is the program's own, as the build has it.
func version() string {
	if b, ok := debug.ReadBuildInfo(); ok && b.Main.Version != "" {
		return b.Main.Version
	}
	return "unreleased"
}

// knowledgeHash tells which knowledge the program would load.
func (a *app) knowledgeHash() (string, error) {
	ls, err := a.layers()
	if err != nil {
		return "", err
	}
	return graph.Hash(ls...), nil
}

func (a *app) printVersion() error {
	h, err := a.knowledgeHash()
	if err != nil {
		return err
	}
	fmt.Fprintf(a.out, "hotlug %s, knowledge %s\n", version(), h)
	return nil
}
