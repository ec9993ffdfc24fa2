using LiveStems.Dsp.Filters;
using LiveStems.View.Desk;

namespace LiveStems.View.Screens;

/// <summary>The bands of an equaliser as filters, for the curve of its response.</summary>
internal static class EqualiserBands
{
    private const int Bands = 12;

    /// <summary>Every band that is on; none for other processors.</summary>
    public static IEnumerable<FilterSettings> Of(ProcessorModel processor)
    {
        if (processor.Slot.Processor != "equaliser")
        {
            yield break;
        }

        for (int band = 1; band <= Bands; band++)
        {
            double Value(string id) => processor.Parameter($"band{band}.{id}")?.Value ?? 0;
            if (Value("on") < 0.5)
            {
                continue;
            }

            // The choices stand in the order of the shapes, the slopes from 6 dB/oct on.
            yield return new FilterSettings((FilterShape)(int)Value("shape"), Value("frequencyHz"), Value("gainDb"), Value("q"), (int)Value("slopeDbPerOctave") + 1);
        }
    }
}
