using LiveStems.Dsp.Simd;

namespace LiveStems.Dsp.Filters;

/// <summary>
/// A filter that can be switched, reshaped and moved while sound runs: its sections in a cascade, and how much of them is
/// heard.
/// </summary>
/// <remarks>
/// <para>
/// Frequency, gain and Q glide. Switching, and another shape or slope, change the number of sections or their nature: the
/// band then fades out, changes, and fades in. A section's fade is exactly a cross-fade between its input and its output
/// (<see cref="StateVariableCoefficients.Faded"/>), so it clicks no more than a fader does.
/// </para>
/// <para>
/// A band that stands still leaves out the sections that change nothing by more than 0.05 dB together
/// (<see cref="SectionAudibility"/>); on the move it has them all. So it ends up the same whichever way it came.
/// </para>
/// <para>
/// A band whose gain travels with the sound (<see cref="GainTravel"/>) moves at every control step at which its share does.
/// It leaves out the sections that nobody hears at either end of the travel.
/// </para>
/// </remarks>
/// <param name="cascade">Where the sections are; room for <see cref="MatchedDesign.MaximumSections"/> of them.</param>
/// <param name="firstSection">The place of the first one.</param>
/// <param name="gainTravels">Whether the band will be given gains that travel.</param>
public sealed class FilterBand(StereoCascade cascade, int firstSection, bool gainTravels = false)
{
    private readonly GainLadder? ladder = gainTravels ? new() : null;
    private readonly SectionPresence presence = new(cascade, firstSection);
    private readonly StateVariableCoefficients[] ends = Unmoved.Array<StateVariableCoefficients>(2 * MatchedDesign.MaximumSections);
    private readonly StateVariableCoefficients[] sections = Unmoved.Array<StateVariableCoefficients>(MatchedDesign.MaximumSections);
    private FilterSettings loaded;
    private int sectionCount;
    private int heardSteps;
    private GainTravel travel;
    private bool isAtRest;

    /// <summary>True until what was asked for is heard in full and nothing else is; then there is no need of more steps.</summary>
    public bool IsFading { get; private set; }

    /// <summary>True for shapes that raise or lower by a gain, which can travel; passes and notch have none.</summary>
    public static bool HasGain(FilterShape shape) =>
        shape is FilterShape.Bell or FilterShape.LowShelf or FilterShape.HighShelf or FilterShape.Tilt;

    /// <summary>Takes its settings at once, as from silence.</summary>
    /// <param name="wanted">The filter.</param>
    /// <param name="isOn">Whether it is heard.</param>
    /// <param name="sampleRate">Frames per second.</param>
    /// <param name="fadeSteps">Control steps that a fade takes.</param>
    public void Jump(in FilterSettings wanted, bool isOn, double sampleRate, int fadeSteps) =>
        Jump(wanted, default, isOn, sampleRate, fadeSteps);

    /// <summary>The same for a band whose gain travels.</summary>
    /// <param name="wanted">The filter.</param>
    /// <param name="travels">What its gain adds; shapes without a gain ignore it.</param>
    /// <param name="isOn">Whether it is heard.</param>
    /// <param name="sampleRate">Frames per second.</param>
    /// <param name="fadeSteps">Control steps that a fade takes.</param>
    public void Jump(in FilterSettings wanted, GainTravel travels, bool isOn, double sampleRate, int fadeSteps)
    {
        Unload();
        IsFading = false;
        if (isOn)
        {
            Load(wanted, travels, sampleRate, 1);
            heardSteps = fadeSteps;
            MarkInaudible();
            presence.RemoveLeaving(sectionCount);
            isAtRest = true;
        }
    }

    /// <summary>
    /// Moves by one control step and gives the cascade the coefficients to be reached at its end. Returns whether there
    /// are any; the caller then starts the cascade's glide.
    /// </summary>
    /// <param name="wanted">The filter, its frequency, gain and Q already gliding.</param>
    /// <param name="isOn">Whether it is to be heard.</param>
    /// <param name="sampleRate">Frames per second.</param>
    /// <param name="fadeSteps">Control steps that a fade takes.</param>
    public bool Step(in FilterSettings wanted, bool isOn, double sampleRate, int fadeSteps) =>
        Step(wanted, default, isOn, sampleRate, fadeSteps);

    /// <summary>The same for a band whose gain travels.</summary>
    /// <param name="wanted">The filter, its frequency, gain and Q already gliding.</param>
    /// <param name="travels">What its gain adds at the end of the step; shapes without a gain ignore it.</param>
    /// <param name="isOn">Whether it is to be heard.</param>
    /// <param name="sampleRate">Frames per second.</param>
    /// <param name="fadeSteps">Control steps that a fade takes.</param>
    public bool Step(in FilterSettings wanted, GainTravel travels, bool isOn, double sampleRate, int fadeSteps)
    {
        if (sectionCount > 0 && heardSteps == 0 && !(isOn && IsBuiltLike(wanted)))
        {
            Unload();
        }

        if (sectionCount == 0 && isOn)
        {
            Load(wanted, travels, sampleRate, 0);
        }

        if (sectionCount == 0)
        {
            IsFading = false;
            return false;
        }

        int heardBefore = heardSteps;
        heardSteps = Math.Clamp(heardSteps + (isOn && IsBuiltLike(wanted) ? 1 : -1), 0, fadeSteps);
        FilterSettings next = wanted with { Shape = loaded.Shape, Order = loaded.Order };
        travels = HasGain(loaded.Shape) ? travels : default;
        if (next == loaded && heardSteps == heardBefore && travels.RangeDb == travel.RangeDb)
        {
            return Rest(travels);
        }

        loaded = next;
        travel = travels;
        isAtRest = false;
        presence.BringIn(sections.AsSpan(0, sectionCount));
        MatchedDesign.Continue(Present, sampleRate, sections);
        StartLadder(sampleRate);
        double share = (double)heardSteps / fadeSteps;
        for (int i = 0; i < sectionCount; i++)
        {
            cascade.MoveTo(firstSection + i, sections[i].Faded(share));
        }

        IsFading = true;
        return true;
    }

    private bool IsBuiltLike(in FilterSettings wanted) =>
        wanted.Shape == loaded.Shape
        && (wanted.Order == loaded.Order || wanted.Shape is not (FilterShape.LowPass or FilterShape.HighPass));

    private FilterSettings Present =>
        travel.RangeDb == 0 ? loaded : loaded with { GainDb = loaded.GainDb + travel.GainDb };

    private void Load(in FilterSettings wanted, GainTravel travels, double sampleRate, double share)
    {
        loaded = wanted;
        travel = HasGain(loaded.Shape) ? travels : default;
        sectionCount = MatchedDesign.Design(Present, sampleRate, sections);
        StartLadder(sampleRate);
        for (int i = 0; i < sectionCount; i++)
        {
            cascade.Set(firstSection + i, sections[i].Faded(share));
        }
    }

    private void StartLadder(double sampleRate)
    {
        if (travel.RangeDb != 0)
        {
            ladder!.Start(loaded, travel.RangeDb, sampleRate, sections);
        }
    }

    private void Unload()
    {
        presence.Clear(sectionCount);
        sectionCount = 0;
        heardSteps = 0;
        isAtRest = false;
    }

    // Fades out what cannot be heard in one step and takes it away in the next, and follows the gain's travel.
    private bool Rest(GainTravel travels)
    {
        bool moves = travels.Share != travel.Share;
        travel = travels;
        if (isAtRest && !moves)
        {
            return false;
        }

        if (moves)
        {
            ladder!.At(travel.Share, sections);
        }

        if (!isAtRest)
        {
            presence.RemoveLeaving(sectionCount);
            IsFading = MarkInaudible();
        }

        for (int i = 0; i < sectionCount; i++)
        {
            if (presence.IsLeaving(i) && !isAtRest)
            {
                cascade.MoveTo(firstSection + i, sections[i].Faded(0));
            }
            else if (presence.IsIn(i) && moves)
            {
                cascade.MoveTo(firstSection + i, sections[i]);
            }
        }

        moves |= IsFading;
        isAtRest = !IsFading;
        return moves;
    }

    private bool MarkInaudible()
    {
        Span<StateVariableCoefficients> here = sections.AsSpan(0, sectionCount);
        if (travel.RangeDb == 0)
        {
            return presence.MarkInaudible(here, here);
        }

        Span<StateVariableCoefficients> near = ends.AsSpan(0, sectionCount);
        Span<StateVariableCoefficients> far = ends.AsSpan(sectionCount, sectionCount);
        ladder!.At(0, near);
        ladder.At(1, far);
        return presence.MarkInaudible(near, far);
    }
}
