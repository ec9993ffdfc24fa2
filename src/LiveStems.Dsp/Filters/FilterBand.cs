using System.Numerics;

namespace LiveStems.Dsp.Filters;

/// <summary>
/// A filter that can be switched, reshaped and moved while sound runs: its sections in a cascade, and how much of them is
/// heard.
/// </summary>
/// <remarks>
/// Frequency, gain and Q glide. Switching, and another shape or slope, change the number of sections or their nature: the
/// band then fades out, changes, and fades in. A section's fade is exactly a cross-fade between its input and its output
/// (<see cref="StateVariableCoefficients.Faded"/>), so it clicks no more than a fader does.
/// <para>
/// Most of the three sections of a factor only matter near Nyquist. Those that would change nothing by more than
/// <see cref="InaudibleDb"/> together are left out as long as the band stands where it was put as from silence; the first move
/// brings them in.
/// </para>
/// </remarks>
/// <param name="cascade">Where the sections are; room for <see cref="MatchedDesign.MaximumSections"/> of them.</param>
/// <param name="firstSection">The place of the first one.</param>
public sealed class FilterBand(StereoCascade cascade, int firstSection)
{
    /// <summary>The most that all sections left out may change together at any frequency, in dB.</summary>
    public const double InaudibleDb = 0.05;

    private const int ProbedFrequencies = 24;

    private readonly bool[] isLeftOut = new bool[MatchedDesign.MaximumSections];
    private readonly StateVariableCoefficients[] sections = new StateVariableCoefficients[MatchedDesign.MaximumSections];
    private FilterSettings loaded;
    private int sectionCount;
    private int heardSteps;

    /// <summary>True until what was asked for is heard in full and nothing else is.</summary>
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
            LeaveOutInaudible();
            heardSteps = fadeSteps;
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

        bool isRight = isOn && sectionCount > 0 && IsBuiltLike(wanted);
        int heardBefore = heardSteps;
        heardSteps = Math.Clamp(heardSteps + (isRight ? 1 : -1), 0, fadeSteps);
        IsFading = isOn ? !isRight || heardSteps < fadeSteps : sectionCount > 0;
        FilterSettings next = wanted with { Shape = loaded.Shape, Order = loaded.Order };
        if (sectionCount == 0 || (next == loaded && heardSteps == heardBefore))
        {
            return false;
        }

        loaded = next;
        BringIn();
        MatchedDesign.Continue(loaded, sampleRate, sections);
        double share = (double)heardSteps / fadeSteps;
        for (int i = 0; i < sectionCount; i++)
        {
            cascade.MoveTo(firstSection + i, sections[i].Faded(share));
        }

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

    private void LeaveOutInaudible()
    {
        double left = Math.Pow(10, InaudibleDb / 20) - 1;
        for (int i = 0; i < sectionCount; i++)
        {
            double change = LargestChange(sections[i]);
            if (change <= left)
            {
                left -= change;
                cascade.Remove(firstSection + i);
                isLeftOut[i] = true;
            }
        }
    }

    private void BringIn()
    {
        for (int i = 0; i < sectionCount; i++)
        {
            if (isLeftOut[i])
            {
                cascade.Set(firstSection + i, sections[i].Faded(0));
                isLeftOut[i] = false;
            }
        }
    }

    private static double LargestChange(in StateVariableCoefficients section)
    {
        double largest = Math.Abs(section.Direct + section.Low - 1);
        for (int i = 0; i < ProbedFrequencies; i++)
        {
            // From two decades below Nyquist: what a section does lower down it also does there.
            double omega = 0.999 * Math.PI * Math.Pow(10, -2.0 * i / (ProbedFrequencies - 1));
            largest = Math.Max(largest, Complex.Abs(section.Response(omega) - 1));
        }

        return largest;
    }

    private void Unload()
    {
        for (int i = 0; i < sectionCount; i++)
        {
            cascade.Remove(firstSection + i);
            isLeftOut[i] = false;
        }

        sectionCount = 0;
        heardSteps = 0;
    }
}
