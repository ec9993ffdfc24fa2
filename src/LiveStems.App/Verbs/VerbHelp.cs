using System.CommandLine;
using System.CommandLine.Help;
using System.CommandLine.Invocation;

namespace LiveStems.App.Verbs;

/// <summary>Adds worked examples to a verb's help.</summary>
internal static class VerbHelp
{
    /// <summary>Shows the examples below the usual help of a verb.</summary>
    public static void AddExamples(this Command verb, params string[] examples)
    {
        HelpOption help = new();
        help.Action = new ExamplesAction((HelpAction)help.Action!, examples);
        verb.Add(help);
    }

    private sealed class ExamplesAction(HelpAction usual, string[] examples) : SynchronousCommandLineAction
    {
        public override bool ClearsParseErrors => true;

        public override int Invoke(ParseResult parseResult)
        {
            int result = usual.Invoke(parseResult);
            TextWriter output = parseResult.InvocationConfiguration.Output;
            output.WriteLine("Examples:");
            foreach (string example in examples)
            {
                output.WriteLine("  " + example);
            }

            return result;
        }
    }
}
