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
            local -a words
            words=("${(@f)$(livestems "[suggest:${CURSOR}]" "${BUFFER}" 2>/dev/null)}")
            [[ -n "${words[*]}" ]] && compadd -a words || _files
        }
        compdef _livestems livestems
        """;

    private const string Fish = """
        complete -c livestems -a '(livestems "[suggest:"(commandline -C)"]" (commandline) 2>/dev/null)'
        """;

    private const string PowerShell = """
        Register-ArgumentCompleter -Native -CommandName livestems -ScriptBlock {
            param($word, $line, $position)
            livestems "[suggest:$position]" "$line" 2>$null | ForEach-Object { [System.Management.Automation.CompletionResult]::new($_) }
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
        verb.AddExamples("source <(livestems completion bash)");
        verb.SetAction(parsed => parsed.InvocationConfiguration.Output.WriteLine(Scripts[parsed.GetRequiredValue(shell)]));
        return verb;
    }
}
