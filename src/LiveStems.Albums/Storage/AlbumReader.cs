using LiveStems.Albums.Model;
using LiveStems.Processing.Catalogue;
using Parallel = LiveStems.Albums.Model.Parallel;

namespace LiveStems.Albums.Storage;

/// <summary>From JSON objects to the records of the album; the fields of each are listed in the order they are written.</summary>
internal sealed class AlbumReader(ProcessorCatalogue catalogue)
{
    private readonly SlotReader slots = new(catalogue);

    public Album Album(ObjectReader fields)
    {
        fields.WholeNumber(AlbumSchema.Field, AlbumSchema.Current);
        return new Album(
            fields.Text("title", string.Empty),
            fields.Text("artist", string.Empty),
            fields.Object("targets", DeliveryTargets.Usual, Targets),
            fields.List("songs", Song),
            fields.List("notes", Note)) { Unknown = fields.Rest() };
    }

    private Song Song(ObjectReader fields) => new(
        fields.Text("title"),
        fields.OptionalWholeNumber("sampleRateHz"),
        fields.OptionalText("roughMix"),
        fields.Object<DeliveryTargets?>("targets", null, Targets),
        fields.List("stems", Stem),
        fields.Object("bus", Model.Chain.Empty, Chain),
        fields.List("notes", Note))
        {
            Markers = fields.List("markers", Marker),
            Answers = fields.List("answers", Answer),
            Isrc = fields.Text("isrc", string.Empty),
            State = fields.Word("state", AlbumWords.State, SongState.Open),
            Edges = fields.Object("edges", SongEdges.Usual, Edges),
            Unknown = fields.Rest(),
        };

    private Stem Stem(ObjectReader fields) => new(
        fields.Text("name"),
        fields.Text("file"),
        fields.Text("sha256", string.Empty),
        fields.Word("role", AlbumWords.Role, StemRole.Other),
        fields.Object("placement", Model.Placement.AsDelivered, Placement),
        fields.Object("chain", Model.Chain.Empty, Chain),
        fields.List("parallels", Parallel),
        fields.List("notes", Note)) { Unknown = fields.Rest() };

    private Parallel Parallel(ObjectReader fields) => new(
        fields.Text("name"),
        fields.Switch("afterChain", false),
        fields.Number("blendDb", AlbumFields.BlendDb.Spec.Default),
        fields.Switch("muted", false),
        fields.Object("chain", Model.Chain.Empty, Chain))
        {
            AlignSamples = fields.Number("alignSamples", AlbumFields.AlignSamples.Spec.Default),
            IsEqualiserLinked = fields.Switch("equaliserLinked", false),
            Unknown = fields.Rest(),
        };

    private Chain Chain(ObjectReader fields) =>
        new(fields.Switch("bypassed", false), fields.List("slots", slots.Read)) { Unknown = fields.Rest() };

    private static Placement Placement(ObjectReader fields) => new(
        fields.Number("gainDb", 0),
        fields.Number("pan", 0),
        fields.Word("polarity", AlbumWords.Polarity, Polarity.Normal),
        fields.WholeNumber("delayFrames", 0),
        fields.Switch("muted", false),
        fields.Switch("soloed", false)) { Unknown = fields.Rest() };

    private static DeliveryTargets Targets(ObjectReader fields) => new(
        fields.OptionalNumber("integratedLufs"),
        fields.Number("ceilingDbtp", AlbumFields.CeilingDbtp.Spec.Default))
        {
            LeastPeakToLoudnessLu = fields.OptionalNumber("leastPeakToLoudnessLu"),
            Unknown = fields.Rest(),
        };

    private static SongEdges Edges(ObjectReader fields) => new(
        fields.Number("gapBeforeSeconds", AlbumFields.GapBeforeSeconds.Spec.Default),
        fields.Number("trimStartSeconds", 0),
        fields.Number("trimEndSeconds", 0),
        fields.Number("fadeInSeconds", 0),
        fields.Word("fadeInShape", AlbumWords.Fade, FadeShape.Smooth),
        fields.Number("fadeOutSeconds", 0),
        fields.Word("fadeOutShape", AlbumWords.Fade, FadeShape.Smooth),
        fields.Number("crossFadeSeconds", 0)) { Unknown = fields.Rest() };

    private static Marker Marker(ObjectReader fields) =>
        new(fields.Text("name"), fields.Number("atSeconds", 0)) { Unknown = fields.Rest() };

    private static IntakeAnswer Answer(ObjectReader fields) =>
        new(fields.OptionalText("stem"), fields.Text("finding"), fields.Text("text")) { Unknown = fields.Rest() };

    private static Note Note(ObjectReader fields) =>
        new(fields.OptionalNumber("atSeconds"), fields.Text("text")) { Unknown = fields.Rest() };
}
