using System.Collections.Concurrent;
using System.Globalization;
using System.Text.Json;
using LiveStems.Engine.RealTime;
using LiveStems.Engine.RealTime.Steps;
using LiveStems.Processing.Catalogue;
using LiveStems.Processing.Contract;

namespace LiveStems.Engine.Hosting.Isolation;

/// <summary>
/// The program inside the process of an outside assembly: takes orders by lines of text, and runs its processors over shared
/// memory. It ends when its orders end.
/// </summary>
public static class ProcessorRunner
{
    /// <summary>The hidden verb that starts it.</summary>
    public const string Verb = "run-processors";

    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(5);

    // So long it may be busy with something else after its orders have ended.
    private static readonly TimeSpan Farewell = TimeSpan.FromSeconds(2);

    /// <summary>Runs until the orders end.</summary>
    /// <param name="orders">One order a line; the first is what to load.</param>
    /// <param name="answers">One answer a line.</param>
    /// <param name="vet">Examines a processor and says what it found as one line of JSON.</param>
    /// <param name="end">Ends the process at once: called when the orders have ended and this has not returned within two seconds.</param>
    /// <returns>The exit code.</returns>
    public static int Run(TextReader orders, TextWriter answers, Func<ProcessorMaker, string> vet, Action end)
    {
        ConcurrentBag<string> files = [];
        OrderQueue queue = new(orders, () =>
        {
            Thread.Sleep(Farewell);
            Delete(files);
            end();
        });
        IReadOnlyList<ProcessorMaker> makers;
        try
        {
            makers = Load(queue.Next() ?? string.Empty);
        }
        catch (HostingException fault)
        {
            Answer(answers, "no", fault.Message);
            return 2;
        }

        Answer(answers, "ready", DescriptionText.Write(makers.Select(maker => maker.Description)));
        Dictionary<string, LineServer> lines = [];
        while (queue.Next() is { } order)
        {
            string[] words = order.Split('\t');
            switch (words[0])
            {
                case "open":
                    files.Add(words[2]);
                    Answer(answers, "opened " + words[1], Open(makers, lines, words));
                    break;
                case "close" when lines.Remove(words[1], out LineServer? closed):
                    closed.End();
                    break;
                case "vet":
                    Answer(answers, "vetted", vet(makers.Single(maker => maker.Description.Id == words[1])));
                    break;
            }
        }

        Delete(files);
        return 0;
    }

    // The program is gone, perhaps without a farewell: nothing of it stays behind.
    private static void Delete(IEnumerable<string> files)
    {
        foreach (string file in files)
        {
            try
            {
                File.Delete(file);
            }
            catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
            {
                // Still open over there (Windows): the next program that starts sweeps it away.
            }
        }
    }

    /// <summary>The first order: what to load.</summary>
    internal static string LoadOrder(AssemblyFacts facts) => JsonSerializer.Serialize(new Wanted(facts.File, facts.Sha256, new SortedDictionary<string, string>(facts.Companions.ToDictionary(), StringComparer.Ordinal)));

    private static IReadOnlyList<ProcessorMaker> Load(string order)
    {
        Wanted wanted = JsonSerializer.Deserialize<Wanted>(order) ?? throw new HostingException("nothing to load");
        AssemblyFacts facts = AssemblyExaminer.Examine(wanted.File);
        if (facts.Sha256 != wanted.Sha256 || !facts.Companions.SequenceEqual(wanted.Companions))
        {
            throw new HostingException($"{Path.GetFileName(wanted.File)} has changed since it was looked at; try again");
        }

        return facts.Fault is { } fault ? throw new HostingException(fault) : OutsideLoader.Load(facts);
    }

    // open, number, file, filling, id, rate, longest block, value of each parameter
    private static string Open(IReadOnlyList<ProcessorMaker> makers, Dictionary<string, LineServer> lines, string[] words)
    {
        try
        {
            SharedLine line = LineFile.Open(words[2]);
            if (!line.IsWhole)
            {
                return "the shared memory is not understood";
            }

            ProcessingFormat format = new(Number(words[5]), Number(words[6]));
            PreparedProcessor prepared = Bounded.Run(() => Prepare(makers, words, format), Patience, OutsidePreparation.Endless);
            lines[words[1]] = new LineServer(line, prepared.Processor, format.MaximumFrames, Number(words[3]));
            return prepared.LatencyFrames.ToString(CultureInfo.InvariantCulture);
        }
        catch (Exception fault)
        {
            return fault is HostingException ? fault.Message : OutsideLoader.Reason(fault);
        }
    }

    private static PreparedProcessor Prepare(IReadOnlyList<ProcessorMaker> makers, string[] words, ProcessingFormat format)
    {
        Processor processor = makers.Single(maker => maker.Description.Id == words[4]).Create();
        for (int i = 7; i < words.Length; i++)
        {
            processor.SetParameter(i - 7, double.Parse(words[i], CultureInfo.InvariantCulture));
        }

        processor.Prepare(format);
        int latency = DeclaredLatency.Of(processor, format);
        Warm(processor, format);
        return new PreparedProcessor(processor, latency);
    }

    // What the runtime compiles now it need not compile while music plays. What throws here throws again where it is told.
    private static void Warm(Processor processor, ProcessingFormat format)
    {
        float[] silence = new float[format.MaximumFrames];
        float[] other = new float[format.MaximumFrames];
        try
        {
            processor.Process(new StereoBlock(silence, other));
            processor.Process(new StereoBlock(silence, other));
        }
        catch (Exception)
        {
        }

        processor.Reset();
    }

    private static int Number(string text) => int.Parse(text, CultureInfo.InvariantCulture);

    private static void Answer(TextWriter answers, string what, string words)
    {
        answers.Write($"{what}\t{words.ReplaceLineEndings(" ")}\n");
        answers.Flush();
    }

    private sealed record Wanted(string File, string Sha256, SortedDictionary<string, string> Companions);
}
