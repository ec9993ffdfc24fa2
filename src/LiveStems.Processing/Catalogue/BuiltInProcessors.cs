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
    public static IReadOnlyList<ProcessorMaker> Makers { get; } =
    [
        new(CompressorParameters.Description, () => new CompressorProcessor()),
        new(DeEsserParameters.Description, () => new DeEsserProcessor()),
        new(EqualiserProcessor.Kind, () => new EqualiserProcessor()),
        new(ExpanderParameters.Description, () => new ExpanderProcessor()),
        new(GainProcessor.Kind, () => new GainProcessor()),
        new(LimiterParameters.Description, () => new LimiterProcessor()),
        new(ResonanceSuppressorParameters.Description, () => new ResonanceSuppressorProcessor()),
        new(RoomParameters.Description, () => new RoomProcessor()),
        new(SaturatorParameters.Description, () => new SaturatorProcessor()),
        new(SoftClipperProcessor.Kind, () => new SoftClipperProcessor()),
        new(TransientShaperProcessor.Kind, () => new TransientShaperProcessor()),
        new(WidthParameters.Description, () => new WidthProcessor()),
    ];

    /// <summary>All of them, by id.</summary>
    public static ProcessorCatalogue Catalogue { get; } = new(Makers);
}
