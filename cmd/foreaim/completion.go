package main

import (
	"io"

	"github.com/spf13/cobra"
)

// shells are those that can complete commands, and how.
var shells = map[string]func(root *cobra.Command, w io.Writer) error{
	"bash":       func(root *cobra.Command, w io.Writer) error { return root.GenBashCompletionV2(w, true) },
	"fish":       func(root *cobra.Command, w io.Writer) error { return root.GenFishCompletion(w, true) },
	"powershell": (*cobra.Command).GenPowerShellCompletionWithDesc,
	"zsh":        (*cobra.Command).GenZshCompletion,
}

func newCompletionCommand(sys system) *cobra.Command {
	return &cobra.Command{
		Use:   "completion SHELL",
		Short: "let your shell complete commands and flags",
		Long: `Print what lets a shell complete commands and flags when Tab is pressed. SHELL
is bash, fish, powershell or zsh. To have it in every new shell, for bash:

  foreaim completion bash > ~/.local/share/bash-completion/completions/foreaim

for fish:

  foreaim completion fish > ~/.config/fish/completions/foreaim.fish

for zsh, into a folder that $fpath names, before compinit:

  foreaim completion zsh > ~/.zfunc/_foreaim

for PowerShell, in the profile:

  foreaim completion powershell | Out-String | Invoke-Expression`,
		Args:      arguments(1, 1, "the name of a shell"),
		ValidArgs: []string{"bash", "fish", "powershell", "zsh"},
		RunE: func(cmd *cobra.Command, args []string) error {
			write, known := shells[args[0]]
			if !known {
				return wrong("the shells are bash, fish, powershell and zsh", "there is no completion for %q", args[0])
			}
			return write(cmd.Root(), verbatim(sys.stdout))
		},
	}
}
