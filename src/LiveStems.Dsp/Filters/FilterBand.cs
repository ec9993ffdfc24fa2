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
/// </remarks>
/// <param name="cascade">Where the sections are; room for <see cref="MatchedDesign.MaximumSections"/> of them.</param>
/// <param name="firstSection">The place of the first one.</param>
public sealed class FilterBand(StereoCascade cascade, int firstSection)
{
    private readonly StateVariableCoefficients[] sections = new StateVariableCoefficients[MatchedDesign.MaximumSections];
    private readonly Presence[] presence = new Presence[MatchedDesign.MaximumSections];
    private FilterSettings loaded;
    private int sectionCount;
    private int heardSteps;
    private bool isAtRest;

    private enum Presence
    {
        In,
        Leaving,
        Out,
    }

    /// <summary>True until what was asked for is heard in full and nothing else is; then there is no need of more steps.</summary>
    public bool IsFading { get; private set; }

    /// <summary>Takes its settings at once, as from silence.</summary>
    /// <param name="wanted">The filter.</param>
    /// <param name="isOn">Whether it is heard.</param>
    /// <param name="sampleRate">Frames per second.</param>
    /// <param name="fadeSteps">Control steps that a fade takes.</param>
    public void Jump(in FilterSettings wanted, bool isOn, double sampleRate, int fadeSteps)
    {
        Unload();
        IsFading = false;
        if (isOn)
        {
            Load(wanted, sampleRate, 1);
            heardSteps = fadeSteps;
            MarkInaudible();
            RemoveLeaving();
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
    public bool Step(in FilterSettings wanted, bool isOn, double sampleRate, int fadeSteps)
    {
        if (sectionCount > 0 && heardSteps == 0 && !(isOn && IsBuiltLike(wanted)))
        {
            Unload();
        }

        if (sectionCount == 0 && isOn)
        {
            Load(wanted, sampleRate, 0);
        }

        if (sectionCount == 0)
        {
            IsFading = false;
            return false;
        }

        int heardBefore = heardSteps;
        heardSteps = Math.Clamp(heardSteps + (isOn && IsBuiltLike(wanted) ? 1 : -1), 0, fadeSteps);
        FilterSettings next = wanted with { Shape = loaded.Shape, Order = loaded.Order };
        if (next == loaded && heardSteps == heardBefore)
        {
            return Rest();
        }

        loaded = next;
        isAtRest = false;
        BringIn();
        MatchedDesign.Continue(loaded, sampleRate, sections);
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

    private void Load(in FilterSettings wanted, double sampleRate, double share)
    {
        loaded = wanted;
        sectionCount = MatchedDesign.Design(wanted, sampleRate, sections);
        for (int i = 0; i < sectionCount; i++)
        {
            cascade.Set(firstSection + i, sections[i].Faded(share));
        }
    }

    private void Unload()
    {
        for (int i = 0; i < sectionCount; i++)
        {
            cascade.Remove(firstSection + i);
            presence[i] = Presence.In;
        }

        sectionCount = 0;
        heardSteps = 0;
        isAtRest = false;
    }

    // Fades out what cannot be heard in one step and takes it away in the next.
    private bool Rest()
    {
        if (isAtRest)
        {
            return false;
        }

        RemoveLeaving();
        IsFading = MarkInaudible();
        for (int i = 0; i < sectionCount; i++)
        {
            if (presence[i] == Presence.Leaving)
            {
                cascade.MoveTo(firstSection + i, sections[i].Faded(0));
            }
        }

        isAtRest = !IsFading;
        return IsFading;
    }

    private bool MarkInaudible()
    {
        bool isAny = false;
        double left = SectionAudibility.InaudibleChange;
        for (int i = 0; i < sectionCount; i++)
        {
            double change = SectionAudibility.LargestChange(sections[i]);
            if (change > left)
            {
                continue;
            }

            left -= change;
            isAny |= presence[i] == Presence.In;
            presence[i] = presence[i] == Presence.In ? Presence.Leaving : presence[i];
        }

        return isAny;
    }

    private void RemoveLeaving()
    {
        for (int i = 0; i < sectionCount; i++)
        {
            if (presence[i] == Presence.Leaving)
            {
                cascade.Remove(firstSection + i);
                presence[i] = Presence.Out;
            }
        }
    }

    private void BringIn()
    {
        for (int i = 0; i < sectionCount; i++)
        {
            if (presence[i] == Presence.Out)
            {
                cascade.Set(firstSection + i, sections[i].Faded(0));
            }

            presence[i] = Presence.In;
        }
    }
}
