using LiveStems.Albums.Model;
using LiveStems.App.Terminal;
using LiveStems.Engine.Comparing;
using LiveStems.Engine.Live;
using Parallel = LiveStems.Albums.Model.Parallel;

namespace LiveStems.App.Playing;

/// <summary>What the keys for comparing do.</summary>
internal sealed class CompareControls(LivePlayer player, PlayControls controls)
{
    private const int LeastOfWords = 10;

    private int parallelIndex;

    /// <summary>Comparisons beside those that the song itself offers: a reference, another version.</summary>
    public IReadOnlyList<CompareScope> Further { get; init; } = [];

    /// <summary>True to hear the scope inside the whole song.</summary>
    public bool IsInSong { get; private set; } = true;

    private LiveComparison Comparing => player.Comparing;

    /// <summary>Compares a scope.</summary>
    public bool Choose(CompareScope scope, bool isInSong)
    {
        try
        {
            Comparing.Choose(new Comparison(scope, isInSong));
            IsInSong = isInSong;
            return true;
        }
        catch (Exception exception) when (exception is ComparisonException or Files.AudioFileException)
        {
            controls.Tell(exception.Message);
            return false;
        }
    }

    /// <summary>Goes on to the next thing that can be compared, and after the last to none.</summary>
    public void NextScope()
    {
        List<CompareScope> scopes = [.. Scopes()];
        int next = Comparing.Chosen is { } chosen ? scopes.IndexOf(chosen.Scope) + 1 : 0;
        if (next >= scopes.Count)
        {
            Leave();
        }
        else
        {
            Choose(scopes[next], IsInSong);
        }
    }

    /// <summary>Compares nothing.</summary>
    public void Leave() => Comparing.Choose(null);

    /// <summary>In and out; with nothing chosen yet, all stems against how they came.</summary>
    public void ToggleSide()
    {
        if (Comparing.Chosen is not null || Choose(Scopes().FirstOrDefault() ?? new AllStemsScope(), IsInSong))
        {
            Comparing.Hear(Comparing.Side == CompareSide.Out ? CompareSide.In : CompareSide.Out);
        }
    }

    /// <summary>The difference, and "out" again.</summary>
    public void ToggleDifference()
    {
        if (Comparing.Chosen is not null || Choose(Scopes().FirstOrDefault() ?? new AllStemsScope(), IsInSong))
        {
            Comparing.Hear(Comparing.Side == CompareSide.Difference ? CompareSide.Out : CompareSide.Difference);
        }
    }

    /// <summary>Alone or inside the song; the side stays.</summary>
    public void ToggleAlone()
    {
        IsInSong = !IsInSong;
        if (Comparing.Chosen is { } chosen)
        {
            CompareSide side = Comparing.Side;
            Choose(chosen.Scope, IsInSong);
            Comparing.Hear(side);
        }
    }

    /// <summary>Fair gain on and off.</summary>
    public void ToggleFair() => Comparing.IsFair = !Comparing.IsFair;

    /// <summary>The next parallel of the stem.</summary>
    public void NextParallel()
    {
        if (!controls.Stem.Parallels.IsEmpty)
        {
            parallelIndex = (parallelIndex + 1) % controls.Stem.Parallels.Length;
            controls.Tell($"parallel {Parallel?.Name} of {controls.Stem.Name}");
        }
    }

    /// <summary>A parallel of the stem: dry (in), parallel (difference), both (out), alone or in the song.</summary>
    public void HearParallel(CompareSide side, bool isInSong)
    {
        if (Parallel is not { } parallel)
        {
            controls.Tell($"{controls.Stem.Name} has no parallel");
            return;
        }

        Comparison wanted = new(new ParallelScope(controls.Stem.Name, parallel.Name), isInSong);
        if (Comparing.Chosen == wanted || Choose(wanted.Scope, isInSong))
        {
            Comparing.Hear(side);
        }
    }

    /// <summary>What is compared and heard, for the status line.</summary>
    public IEnumerable<LinePart> Status()
    {
        if (Comparing.Chosen is not { } chosen)
        {
            yield break;
        }

        string side = Comparing.Side switch
        {
            CompareSide.In => "in",
            CompareSide.Out => "out",
            CompareSide.Difference => "difference",
            _ => "silent",
        };
        yield return new LinePart($"{chosen.Words}: {side}", LinePart.Cut(Turn.Listening, chosen.Words, $": {side}", LeastOfWords), LinePart.To(Turn.Rest, side));
        yield return new LinePart(FairWords(), LinePart.To(Turn.Past, string.Empty));
    }

    /// <summary>The fair gain in words.</summary>
    public string FairWords()
    {
        FairGain fair = Comparing.Fair;
        if (!Comparing.IsFair)
        {
            return fair.IsMeasured ? $"not fair: out {Signed(fair.DifferenceLu)} LU" : "not fair";
        }

        return fair.IsMeasured ? $"fair: in {Signed(fair.InDb)} out {Signed(fair.OutDb)} dB" : "fair: listening";
    }

    private Parallel? Parallel => controls.Stem.Parallels.IsEmpty ? null : controls.Stem.Parallels[parallelIndex % controls.Stem.Parallels.Length];

    private IEnumerable<CompareScope> Scopes() => All().Where(scope => IsPossible(scope));

    private bool IsPossible(CompareScope scope)
    {
        try
        {
            _ = new Comparison(scope, IsInSong).Of(controls.Song);
            return true;
        }
        catch (ComparisonException)
        {
            return false;
        }
    }

    private IEnumerable<CompareScope> All()
    {
        Stem stem = controls.Stem;
        yield return new AllStemsScope();
        yield return new StemScope(stem.Name);
        yield return new ChainScope(new ChainPlace(stem.Name));
        foreach (ChainSlot slot in stem.Chain.Slots)
        {
            yield return new ProcessorScope(new ChainPlace(stem.Name), slot.Id);
        }

        foreach (Parallel parallel in stem.Parallels)
        {
            yield return new ParallelScope(stem.Name, parallel.Name);
        }

        yield return new ChainScope(ChainPlace.SongChain);
        foreach (ChainSlot slot in controls.Song.Bus.Slots)
        {
            yield return new ProcessorScope(ChainPlace.SongChain, slot.Id);
        }

        if (controls.Song.RoughMix is not null)
        {
            yield return FileScope.RoughMixOf(controls.Song);
        }

        foreach (CompareScope scope in Further)
        {
            yield return scope;
        }
    }

    private static string Signed(double value) => (value > 0 ? "+" : string.Empty) + Numbers.Text(value, 1);
}
