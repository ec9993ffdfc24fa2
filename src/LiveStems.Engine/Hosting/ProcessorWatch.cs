namespace LiveStems.Engine.Hosting;

/// <summary>
/// Looks at the processors folder, and at what the user has decided, while the program runs: a build that has arrived, a
/// decision made in another window. Whoever plays asks now and then whether anything is another.
/// </summary>
/// <remarks>It looks ten times a second and acts when two looks have shown the same, so that no half-written file is taken.</remarks>
public sealed class ProcessorWatch : IDisposable
{
    private static readonly TimeSpan BetweenLooks = TimeSpan.FromMilliseconds(100);

    private readonly HostingPlaces places;
    private readonly Func<ProcessorHost, ProcessorHost> open;
    private readonly ManualResetEventSlim ending = new();
    private readonly Thread thread;
    private ProcessorHost current;
    private ProcessorHost? changed;
    private string? trouble;

    /// <summary>Begins to look.</summary>
    /// <param name="places">Where to look.</param>
    /// <param name="current">What is loaded so far.</param>
    public ProcessorWatch(HostingPlaces places, ProcessorHost current)
        : this(places, current, before => ProcessorHost.Open(places, before))
    {
    }

    /// <param name="places">Where to look.</param>
    /// <param name="current">What is loaded so far.</param>
    /// <param name="open">Gives what is there now, from what was there before.</param>
    internal ProcessorWatch(HostingPlaces places, ProcessorHost current, Func<ProcessorHost, ProcessorHost> open)
    {
        this.places = places;
        this.current = current;
        this.open = open;
        thread = new Thread(LookOn) { IsBackground = true, Name = "watch over the processors folder" };
        thread.Start();
    }

    /// <summary>Where it looks.</summary>
    public HostingPlaces Places => places;

    /// <summary>The processors as whoever plays has taken them up last; for the thread that calls <see cref="TakeChange"/>.</summary>
    public ProcessorHost Current => current;

    /// <summary>The processors as they are now, with what has happened in words; null when nothing has since the last call.</summary>
    public (ProcessorHost Host, IReadOnlyList<ProcessorNews> News)? TakeChange()
    {
        ProcessorNews? told = Interlocked.Exchange(ref trouble, null) is { } words ? new(words) : null;
        if (Interlocked.Exchange(ref changed, null) is not { } host)
        {
            return told is null ? null : (current, [told]);
        }

        ProcessorHost before = current;
        current = host;
        return (host, [.. host.Assemblies.Select(now => News(now, before.Assemblies.FirstOrDefault(each => each.Facts.File == now.Facts.File))).Prepend(told).OfType<ProcessorNews>()]);
    }

    /// <summary>Ends looking.</summary>
    public void Dispose()
    {
        ending.Set();
        thread.Join();
        ending.Dispose();
    }

    private static ProcessorNews? News(OutsideAssembly now, OutsideAssembly? before)
    {
        string file = now.FileName;
        if (before is not null && (before.Facts.Sha256, before.State) == (now.Facts.Sha256, now.State))
        {
            return NewsOfRefused(now, before) is { } refused ? new(refused) : before.RunsWhere(now) ? null : new($"{file} runs where you have said from now on");
        }

        string goesOn = now.Makers.Count > 0 ? "; it plays on as it was" : string.Empty;
        return now.State switch
        {
            OutsideState.Loaded => new($"{file} {(before is { Makers.Count: > 0 } ? "has been replaced" : "is here")} and is heard from now on"),
            OutsideState.Changed => new($"{file} has changed{goesOn} until you say yes to the new one", $"livestems processors --trust {PlainText.Argument(file)}"),
            OutsideState.Unusable => new($"{file}: {now.Fault}{goesOn}"),
            OutsideState.Refused => new($"{file} is refused and runs no more"),
            _ => new($"{file} is new; it runs when you say yes", $"livestems processors --trust {PlainText.Argument(file)}"),
        };
    }

    private static string? NewsOfRefused(OutsideAssembly now, OutsideAssembly before)
    {
        string[] gone = [.. now.RefusedProcessors.Except(before.RefusedProcessors)];
        string[] back = [.. before.RefusedProcessors.Except(now.RefusedProcessors)];
        string without = gone.Length == 0 ? string.Empty : $"{now.FileName} goes on without {string.Join(", ", gone)}, which {(gone.Length == 1 ? "is" : "are")} refused";
        string with = back.Length == 0 ? string.Empty : $"{string.Join(", ", back)} of {now.FileName} run{(back.Length == 1 ? "s" : string.Empty)} from now on";
        return (without.Length, with.Length) switch
        {
            (0, 0) => null,
            (0, _) => with,
            (_, 0) => without,
            _ => $"{without}; {with}",
        };
    }

    private void LookOn()
    {
        ProcessorHost loaded = current;

        // What has come since the host was opened, while the program started, has not been seen yet.
        string known = loaded.Signature;
        string last = known;
        while (!ending.Wait(BetweenLooks))
        {
            string now = FolderSignature.Of(places);
            if (now == last && now != known)
            {
                known = now;
                loaded = LookAgain(loaded);
            }

            last = now;
        }
    }

    // Whatever goes wrong here, the music goes on with what it has.
    private ProcessorHost LookAgain(ProcessorHost before)
    {
        try
        {
            ProcessorHost now = open(before);
            Interlocked.Exchange(ref changed, now);
            return now;
        }
        catch (Exception fault)
        {
            Interlocked.Exchange(ref trouble, $"what has changed in {places.Folder} cannot be taken up ({PlainText.Of(fault.Message)}); the processors stay as they were");
            return before;
        }
    }
}
