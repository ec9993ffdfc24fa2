using LiveStems.Processing.Processors.Compressor;
using LiveStems.Processing.Processors.Equaliser;
using LiveStems.Processing.Processors.GainAndAlignment;
using LiveStems.Processing.Processors.Limiter;
using LiveStems.Processing.Processors.ResonanceSuppressor;

namespace LiveStems.Processing.Catalogue;

/// <summary>The processors that come with the program.</summary>
public static class BuiltInProcessors
{
    /// <summary>All of them. A new processor is added here and nowhere else; the nets over every processor find it here.</summary>
    public static ProcessorCatalogue Catalogue { get; } = new(
    [
        () => new CompressorProcessor(),
        () => new EqualiserProcessor(),
        () => new GainProcessor(),
        () => new LimiterProcessor(),
        () => new ResonanceSuppressorProcessor(),
    ]);
}
