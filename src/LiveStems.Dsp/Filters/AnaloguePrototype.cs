namespace LiveStems.Dsp.Filters;

/// <summary>
/// The analogue filters that digital ones are measured against: bells, shelves, notch and second-order passes of the
/// Audio EQ Cookbook (R. Bristow-Johnson; W3C Note of 8 June 2021), Butterworth passes of any order to eight, and a tilt,
/// which is the cookbook's high shelf lowered by half its gain.
/// </summary>
public static class AnaloguePrototype
{
    /// <summary>The most sections that any setting needs.</summary>
    public const int MaximumSections = 4;

    /// <summary>Writes the sections of a filter and returns how many there are.</summary>
    /// <param name="settings">What the filter does; its frequency plays no part here.</param>
    /// <param name="sections">Room for <see cref="MaximumSections"/>.</param>
    public static int Sections(in FilterSettings settings, Span<AnalogueSection> sections)
    {
        double root = Math.Pow(10, settings.GainDb / 40);
        double width = Math.Sqrt(root) / settings.Q;
        double damping = 1 / settings.Q;
        switch (settings.Shape)
        {
            case FilterShape.Bell:
                sections[0] = new(1, root * damping, 1, 1, damping / root, 1);
                return 1;
            case FilterShape.LowShelf:
                sections[0] = new(root, root * width, root * root, root, width, 1);
                return 1;
            case FilterShape.HighShelf:
                sections[0] = new(root * root, root * width, root, 1, width, root);
                return 1;
            case FilterShape.Tilt:
                sections[0] = new(root, width, 1, 1, width, root);
                return 1;
            case FilterShape.Notch:
                sections[0] = new(1, 0, 1, 1, damping, 1);
                return 1;
            default:
                return Passes(settings, sections);
        }
    }

    /// <summary>The gain in decibels that the analogue filter has at a frequency.</summary>
    public static double GainDb(in FilterSettings settings, double frequencyHz)
    {
        Span<AnalogueSection> sections = stackalloc AnalogueSection[MaximumSections];
        int count = Sections(settings, sections);
        double power = 1;
        foreach (AnalogueSection section in sections[..count])
        {
            power *= section.MagnitudeSquared(frequencyHz / settings.FrequencyHz);
        }

        return Decibels.FromPower(power);
    }

    private static int Passes(in FilterSettings settings, Span<AnalogueSection> sections)
    {
        int order = settings.Order;
        int pairs = order / 2;
        bool isHighPass = settings.Shape == FilterShape.HighPass;
        for (int pair = 0; pair < pairs; pair++)
        {
            double damping = order == 2 ? 1 / settings.Q : 1 / Butterworth.PairQ(order, pair);
            sections[pair] = isHighPass ? new(1, 0, 0, 1, damping, 1) : new(0, 0, 1, 1, damping, 1);
        }

        if (order % 2 == 1)
        {
            sections[pairs] = isHighPass ? new(0, 1, 0, 0, 1, 1) : new(0, 0, 1, 0, 1, 1);
        }

        return pairs + order % 2;
    }
}
