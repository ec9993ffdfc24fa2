using System.CommandLine;

namespace LiveStems.App.Verbs;

/// <summary><c>completion</c>: scripts with which shells complete the program's words.</summary>
internal static class CompletionVerb
{
    private const string Bash = """
        _livestems() {
            local IFS=$'\n'
            COMPREPLY=( $(livestems "[suggest:${COMP_POINT}]" "${COMP_LINE}" 2>/dev/null) )
            [ ${#COMPREPLY[@]} -eq 0 ] && COMPREPLY=( $(compgen -f -- "${COMP_WORDS[COMP_CWORD]}") )
        }
        complete -o filenames -F _livestems livestems
        """;

    private const string Zsh = """
        _livestems() {
            local line="${(j: :)words[1,CURRENT]}"
            local -a found
            found=("${(@f)$(livestems "[suggest:${#line}]" "$line" 2>/dev/null)}")
            [[ -n "${found[*]}" ]] && compadd -a found || _files
        }
        compdef _livestems livestems
        """;

    private const string Fish = """
        function __livestems_words
            set -l line (commandline -cp)
            livestems "[suggest:"(string length -- "$line")"]" "$line" 2>/dev/null | string match -rv '^$'
        end
        complete -c livestems -f -a '(__livestems_words)'
        complete -c livestems -n 'test (count (__livestems_words)) -eq 0' -F
        """;

    private const string PowerShell = """
        Register-ArgumentCompleter -Native -CommandName livestems -ScriptBlock {
            param($word, $command, $position)
            livestems "[suggest:$($position - $command.Extent.StartOffset)]" "$command" 2>$null |
                Where-Object { $_ } | ForEach-Object { [System.Management.Automation.CompletionResult]::new($_) }
        }
        """;

    private static readonly Dictionary<string, string> Scripts = new()
    {
        ["bash"] = Bash,
        ["zsh"] = Zsh,
        ["fish"] = Fish,
        ["powershell"] = PowerShell,
    };

    /// <summary>The verb.</summary>
    public static Command Create()
    {
        Argument<string> shell = new("shell") { Description = "bash, zsh, fish or powershell." };
        shell.AcceptOnlyFromAmong([.. Scripts.Keys]);
        Command verb = new("completion", "Writes a script with which a shell completes verbs, options and values.") { shell };
        verb.AddExamples(
            "source <(livestems completion bash)",
            "source <(livestems completion zsh)                after compinit",
            "livestems completion fish > ~/.config/fish/completions/livestems.fish",
            "livestems completion powershell | Out-String | Invoke-Expression");
        verb.SetAction(parsed => parsed.InvocationConfiguration.Output.WriteLine(Scripts[parsed.GetRequiredValue(shell)]));
        return verb;
    }
}
