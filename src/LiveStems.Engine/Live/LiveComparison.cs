using LiveStems.Engine.Comparing;
using LiveStems.Engine.RealTime;

namespace LiveStems.Engine.Live;

/// <summary>
/// What a player compares and which side of it is heard. Belongs to the player's control thread.
/// </summary>
/// <remarks>
/// <para>
/// <see cref="Choose"/> says what is compared; the player goes over to a plan with both sides, without a click, as after
/// any other change of the song. From then on both sides run side by side, aligned to the sample, and <see cref="Hear"/>
/// goes over from one to the other with the next block, by a cross-fade of 10 ms. Editing goes on meanwhile: "in" is made
/// anew from the song after every change.
/// </para>
/// <para>
/// The fair gain is on from the start. It is measured while the music plays and stands still around every switch; see
/// <see cref="Fair"/>.
/// </para>
/// </remarks>
public sealed class LiveComparison
{
    private readonly Action<Comparison?> choose;
    private readonly FairGainKeeper keeper = new();
    private readonly Dictionary<Comparison, FairGain> known = [];
    private SideMix? mix;
    private bool isFair = true;

    internal LiveComparison(Action<Comparison?> choose) => this.choose = choose;

    /// <summary>What is compared, or null: the song alone is heard.</summary>
    public Comparison? Chosen { get; private set; }

    /// <summary>The side that is heard.</summary>
    public CompareSide Side { get; private set; } = CompareSide.Out;

    /// <summary>True once both sides run and switching is at once.</summary>
    public bool IsReady => mix is not null;

    /// <summary>True while both sides are made equally loud.</summary>
    public bool IsFair
    {
        get => isFair;
        set
        {
            isFair = value;
            Post();
        }
    }

    /// <summary>True to let the fair gain stand as it is, as a blind test does.</summary>
    public bool IsFairLocked
    {
        get => keeper.IsLocked;
        set => keeper.IsLocked = value;
    }

    /// <summary>The loudness of both sides and the gains that follow from it, whether they are applied or not.</summary>
    public FairGain Fair => keeper.Current;

    /// <summary>Compares something else, or nothing (null); "out" is heard until another side is asked for.</summary>
    /// <exception cref="ComparisonException">There is nothing to compare in the song; what was compared stays.</exception>
    /// <exception cref="Files.AudioFileException">A file that it needs cannot be opened; what was compared stays.</exception>
    public void Choose(Comparison? comparison)
    {
        choose(comparison);
        if (comparison != Chosen)
        {
            Remember();
            keeper.StartWith(comparison is null ? FairGain.None : known.GetValueOrDefault(comparison, FairGain.None));
            Side = CompareSide.Out;
        }

        Chosen = comparison;
        Post();
    }

    /// <summary>Goes over to a side with the next block.</summary>
    public void Hear(CompareSide side)
    {
        if (side != Side)
        {
            Side = side;
            keeper.Switched();
            Post();
        }
    }

    /// <summary>Makes what the audio thread needs for a new plan.</summary>
    internal SideMix Bring(int sampleRate, int maximumFrames) => mix = new SideMix(sampleRate, maximumFrames, Targets());

    /// <summary>There is no plan with two sides any more.</summary>
    internal void Leave() => mix = null;

    /// <summary>The song has changed so that the comparison is void.</summary>
    internal void Drop()
    {
        Chosen = null;
        Side = CompareSide.Out;
        keeper.StartWith(FairGain.None);
    }

    /// <summary>Lets the fair gain follow what was heard.</summary>
    internal void Update(double? loopSeconds)
    {
        if (mix is not null && keeper.Update(mix.Log, loopSeconds))
        {
            Post();
        }
    }

    // Who comes back to a comparison finds it fair at once; it is measured anew meanwhile.
    private void Remember()
    {
        if (Chosen is not null && keeper.Current.IsMeasured)
        {
            known[Chosen] = keeper.Current;
        }
    }

    private void Post() => mix?.Post(Targets());

    private SideTargets Targets()
    {
        (double inGain, double outGain) = isFair ? keeper.Current.Amplitudes : (1, 1);
        return new SideTargets(
            Side == CompareSide.In ? 1 : 0, Side == CompareSide.Out ? 1 : 0, Side == CompareSide.Difference ? 1 : 0, inGain, outGain);
    }
}
