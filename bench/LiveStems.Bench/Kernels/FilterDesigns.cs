using BenchmarkDotNet.Attributes;
using LiveStems.Dsp.Filters;

namespace LiveStems.Bench.Kernels;

/// <summary>One matched design, as a gliding band makes on the audio thread every 32 frames.</summary>
[MemoryDiagnoser]
public class FilterDesigns
{
    private readonly StateVariableCoefficients[] sections = new StateVariableCoefficients[MatchedDesign.MaximumSections];
    private FilterSettings settings;

    [Params(FilterShape.Bell, FilterShape.HighShelf, FilterShape.LowPass, FilterShape.HighPass)]
    public FilterShape Shape { get; set; }

    [GlobalSetup]
    public void Prepare()
    {
        settings = new FilterSettings(Shape, 9000, 6, 1, 8);
        MatchedDesign.Design(settings, 44_100, sections);
    }

    [Benchmark]
    public int Design() => MatchedDesign.Continue(settings, 44_100, sections);
}
