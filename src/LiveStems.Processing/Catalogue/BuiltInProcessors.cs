using LiveStems.Processing.Processors.Compressor;
using LiveStems.Processing.Processors.DeEsser;
using LiveStems.Processing.Processors.Equaliser;
using LiveStems.Processing.Processors.Expander;
using LiveStems.Processing.Processors.GainAndAlignment;
using LiveStems.Processing.Processors.Limiter;
using LiveStems.Processing.Processors.ResonanceSuppressor;
using LiveStems.Processing.Processors.Room;
using LiveStems.Processing.Processors.Saturator;
using LiveStems.Processing.Processors.SoftClipper;
using LiveStems.Processing.Processors.TransientShaper;
using LiveStems.Processing.Processors.Width;

namespace LiveStems.Processing.Catalogue;

/// <summary>The processors that come with the program.</summary>
public static class BuiltInProcessors
{
    /// <summary>All of them. A new processor is added here and nowhere else; the nets over every processor find it here.</summary>
    public static ProcessorCatalogue Catalogue { get; } = new(
    [
        () => new CompressorProcessor(),
        () => new DeEsserProcessor(),
        () => new EqualiserProcessor(),
        () => new ExpanderProcessor(),
        () => new GainProcessor(),
        () => new LimiterProcessor(),
        () => new ResonanceSuppressorProcessor(),
        () => new RoomProcessor(),
        () => new SaturatorProcessor(),
        () => new SoftClipperProcessor(),
        () => new TransientShaperProcessor(),
        () => new WidthProcessor(),
    ]);
}
