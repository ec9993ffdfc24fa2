using CsCheck;
using LiveStems.Albums;
using LiveStems.Albums.Editing;
using LiveStems.Albums.Model;
using Xunit;

namespace LiveStems.Tests.Albums.Editing;

public class AlbumAddressTests
{
    [Theory]
    [InlineData("title", "Harbour Lights")]
    [InlineData("targets.integratedLufs", "−14 LUFS")]
    [InlineData("Foghorn Waltz.targets.ceilingDbtp", "−1.5 dBTP")]
    [InlineData("Low Tide.targets.ceilingDbtp", "−1 dBTP")]
    [InlineData("Low Tide.targets", "album")]
    [InlineData("Low Tide.sampleRateHz", "none")]
    [InlineData("Foghorn Waltz.sampleRateHz", "48 kHz")]
    [InlineData("Foghorn Waltz/Bass.role", "bass")]
    [InlineData("Foghorn Waltz/Bass.gainDb", "0 dB")]
    [InlineData("Foghorn Waltz/Bass/equaliser.band1.gainDb", "−2 dB")]
    [InlineData("Foghorn Waltz/Bass/equaliser.band1.shape", "low-shelf")]
    [InlineData("Foghorn Waltz/Bass/equaliser.band3.frequencyHz", "1 kHz")]
    [InlineData("Foghorn Waltz/Bass/equaliser.reason", "boomy")]
    [InlineData("Foghorn Waltz/Bass/compressor.key", "Drums")]
    [InlineData("Foghorn Waltz/bus/equaliser.band1.gainDb", "0.5 dB")]
    [InlineData("Foghorn Waltz/Drums/parallel:Crush.blendDb", "−12 dB")]
    [InlineData("Foghorn Waltz/Drums/parallel:Crush/compressor.ratio", "8:1")]
    [InlineData("1/1.role", "bass")]
    [InlineData("1/2/parallel:1/1.ratio", "8:1")]
    [InlineData("fog/lead.role", "lead-vocal")]
    [InlineData("FOGHORN WALTZ / DRUMS / PARALLEL:CR . BLENDDB", "−12 dB")]
    [InlineData("Fog/Bass/eq.band10.gainDb", "3 dB")]
    public void AnAddressLeadsToItsValue(string address, string text) =>
        Assert.Equal(text, AlbumAddress.Get(ExampleAlbum.Album, address, PlainProcessors.Catalogue));

    [Theory]
    [InlineData("title = Harbour Nights", "title", "Harbour Nights")]
    [InlineData("targets.integratedLufs=-16 LUFS", "targets.integratedLufs", "−16 LUFS")]
    [InlineData("targets.integratedLufs = none", "targets.integratedLufs", "none")]
    [InlineData("Low Tide.targets.ceilingDbtp = -2 dBTP", "Low Tide.targets.ceilingDbtp", "−2 dBTP")]
    [InlineData("Foghorn Waltz.targets = album", "Foghorn Waltz.targets.ceilingDbtp", "−1 dBTP")]
    [InlineData("Foghorn Waltz.roughMix = none", "Foghorn Waltz.roughMix", "none")]
    [InlineData("Foghorn Waltz.sampleRateHz = 44.1 kHz", "Foghorn Waltz.sampleRateHz", "44.1 kHz")]
    [InlineData("Foghorn Waltz/Bass.gainDb = −1.5 dB", "Foghorn Waltz/Bass.gainDb", "−1.5 dB")]
    [InlineData("Foghorn Waltz/Bass.pan = -0.25", "Foghorn Waltz/Bass.pan", "−0.25")]
    [InlineData("Foghorn Waltz/Bass.polarity = left-inverted", "Foghorn Waltz/Bass.polarity", "left-inverted")]
    [InlineData("Foghorn Waltz/Bass.delayFrames = -120 samples", "Foghorn Waltz/Bass.delayFrames", "−120 samples")]
    [InlineData("Foghorn Waltz/Bass.muted = on", "Foghorn Waltz/Bass.muted", "on")]
    [InlineData("Foghorn Waltz/Bass.role = Lead-Vocal", "Foghorn Waltz/Bass.role", "lead-vocal")]
    [InlineData("Foghorn Waltz/Bass.chain.bypassed = on", "Foghorn Waltz/Bass.chain.bypassed", "on")]
    [InlineData("Foghorn Waltz/bus.bypassed = on", "Foghorn Waltz/bus.bypassed", "on")]
    [InlineData("Foghorn Waltz/Bass/equaliser.bypassed = on", "Foghorn Waltz/Bass/equaliser.bypassed", "on")]
    [InlineData("Foghorn Waltz/Bass/equaliser.mixPercent = 40 %", "Foghorn Waltz/Bass/equaliser.mixPercent", "40 %")]
    [InlineData("Foghorn Waltz/Bass/equaliser.scope = mid", "Foghorn Waltz/Bass/equaliser.scope", "mid")]
    [InlineData("Foghorn Waltz/Bass/equaliser.reason = a = b", "Foghorn Waltz/Bass/equaliser.reason", "a = b")]
    [InlineData("Foghorn Waltz/Bass/equaliser.band2.frequencyHz = 1.2 kHz", "Foghorn Waltz/Bass/equaliser.band2.frequencyHz", "1.2 kHz")]
    [InlineData("Foghorn Waltz/Bass/equaliser.band2.on = on", "Foghorn Waltz/Bass/equaliser.band2.on", "on")]
    [InlineData("Foghorn Waltz/Bass/equaliser.phase = linear", "Foghorn Waltz/Bass/equaliser.phase", "linear")]
    [InlineData("Foghorn Waltz/Bass/compressor.keyStem = lead", "Foghorn Waltz/Bass/compressor.key", "Lead Vocal")]
    [InlineData("Foghorn Waltz/Bass/compressor.key = none", "Foghorn Waltz/Bass/compressor.key", "none")]
    [InlineData("Foghorn Waltz/Drums/parallel:Crush.afterChain = off", "Foghorn Waltz/Drums/parallel:Crush.afterChain", "off")]
    public void AnAssignmentChangesTheValue(string assignment, string address, string text)
    {
        Album changed = AlbumAddress.Set(ExampleAlbum.Album, assignment, PlainProcessors.Catalogue);
        Assert.Equal(text, AlbumAddress.Get(changed, address, PlainProcessors.Catalogue));
    }

    [Theory]
    [InlineData("Fog/Bass/compressor.treshold = 0", "did you mean thresholdDb?")]
    [InlineData("Fog/Bass/compressor.thresholdDb = -90 dB", "thresholdDb goes from −80 dB to 0 dB")]
    [InlineData("Fog/Bass/compressor.thresholdDb = 3 kHz", "the unit 'kHz' does not fit")]
    [InlineData("Fog/Bass/compressor.key = Drumms", "did you mean Drums?")]
    [InlineData("Fog/Bass/equaliser.key = Drums", "has no parameter 'key'")]
    [InlineData("Fog/Bass/equaliser.scope = middle", "scope is one of stereo, mid, side")]
    [InlineData("Fog/Bass.role = basss", "did you mean bass?")]
    [InlineData("Fog/Bass.gain = 0", "did you mean gainDb?")]
    [InlineData("Fog/Bass.gainDb = 30", "lies outside")]
    [InlineData("Fog/Bass.sha256 = 0", "can be read but not set")]
    [InlineData("Fog/Bass.name = Drums", "'Drums' is there twice")]
    [InlineData("Fog/Bass.name = ", "must not be empty")]
    [InlineData("Fog/Bass.file = ../x.wav", "inside the album's folder")]
    [InlineData("Fog/Bass = 3", "is not one value")]
    [InlineData("Fgohorn Waltz/Bass.gainDb = 0", "did you mean Foghorn Waltz?")]
    [InlineData("3/Bass.gainDb = 0", "there is no song '3'")]
    [InlineData("Fog/Bas/limiter.x = 0", "there is equaliser, compressor")]
    [InlineData("Fog/Bass/equaliser/band1.gainDb = 0", "ends here")]
    [InlineData("Fog/Bass.gainDb", "has no '='")]
    [InlineData("Low Tide.targets = mine", "album or own")]
    [InlineData("Foghorn Waltz.sampleRateHz = 44100.5", "")]
    public void AWrongAssignmentSaysWhatWouldBeRightOnOneLine(string assignment, string said)
    {
        if (said.Length == 0)
        {
            // A rate is a whole number: the nearest is taken.
            Assert.Equal(44_100, AlbumAddress.Set(ExampleAlbum.Album, assignment, PlainProcessors.Catalogue).Songs[0].SampleRate);
            return;
        }

        AlbumException fault = Assert.Throws<AlbumException>(() => AlbumAddress.Set(ExampleAlbum.Album, assignment, PlainProcessors.Catalogue));
        Assert.Contains(said, fault.Message, StringComparison.Ordinal);
        Assert.DoesNotContain('\n', fault.Message);
    }

    [Fact]
    public void ABeginningThatSeveralHaveIsAmbiguous()
    {
        Album album = ExampleAlbum.Album with { Songs = [ExampleAlbum.Plain("Low Tide"), ExampleAlbum.Plain("Low Water")] };
        AlbumException fault = Assert.Throws<AlbumException>(() => AlbumAddress.SongIndex(album, "low"));
        Assert.Contains("Low Tide or Low Water", fault.Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("Mole/Pier")]
    [InlineData("Mr. Keel")]
    [InlineData("Mole/Pier 2.5")]
    [InlineData("12")]
    [InlineData("title")]
    public void NamesMayHoldTheSignsOfAddresses(string title)
    {
        Album album = ExampleAlbum.Album with { Songs = [ExampleAlbum.Plain("Mole"), ExampleAlbum.Plain(title)] };
        Album changed = AlbumAddress.Set(album, $"{title}/Drums.gainDb = -3", PlainProcessors.Catalogue);
        Assert.Equal(-3, changed.Songs[1].Stems[1].Placement.GainDb);
    }

    [Fact]
    public void AStemNamedBusIsFoundByItsNumber()
    {
        Song song = ExampleAlbum.Plain("Low Tide");
        song = song with { Stems = [song.Stems[0] with { Name = "bus" }] };
        Album album = ExampleAlbum.Album with { Songs = [song] };
        Assert.Contains(AlbumAddress.List(album, string.Empty, PlainProcessors.Catalogue), value => value.Address == "Low Tide/1.gainDb");
        Assert.Equal("bus", AlbumAddress.Get(album, "Low Tide/1.name", PlainProcessors.Catalogue));
    }

    [Fact]
    public void EveryListedAddressLeadsToItsText()
    {
        Gen.Select(AlbumGenerators.Albums, Gen.Int[0, 1000]).Sample(
            (album, pick) =>
            {
                AddressedValue[] all = [.. AlbumAddress.List(album, string.Empty, PlainProcessors.Catalogue)];
                AddressedValue value = all[pick % all.Length];
                Assert.Equal(value.Text, AlbumAddress.Get(album, value.Address, PlainProcessors.Catalogue));
            },
            iter: 300);
    }

    [Fact]
    public void SettingTheTextThatIsThereKeepsItUpToItsDigits()
    {
        AlbumGenerators.Albums.Sample(
            album =>
            {
                foreach (AddressedValue value in AlbumAddress.List(album, string.Empty, PlainProcessors.Catalogue).Where(value => value.CanBeSet))
                {
                    Album same = AlbumAddress.Set(album, value.Address, value.Text, PlainProcessors.Catalogue);
                    Assert.Equal(value.Text.Trim(), AlbumAddress.Get(same, value.Address, PlainProcessors.Catalogue));
                }
            },
            iter: 10);
    }

    [Fact]
    public void ParametersOfAProcessorThatIsNotInstalledAreKeptButNotSet()
    {
        ChainSlot outside = ExampleAlbum.Slot("tape", "harbour.tape") with { RawParameters = "{\"wow\": 1}" };
        Song song = ExampleAlbum.Plain("Low Tide") with { Bus = new Chain(false, [outside]) };
        Album album = ExampleAlbum.Album with { Songs = [song] };
        AlbumException fault = Assert.Throws<AlbumException>(() => AlbumAddress.Set(album, "Low Tide/bus/tape.wow = 2", PlainProcessors.Catalogue));
        Assert.Contains("is not here", fault.Message, StringComparison.Ordinal);
        Album bypassed = AlbumAddress.Set(album, "Low Tide/bus/tape.bypassed = on", PlainProcessors.Catalogue);
        Assert.Equal("{\"wow\": 1}", bypassed.Songs[0].Bus.Slots[0].RawParameters);
    }

    [Fact]
    public void ARenamedStemStaysTheKeyOfItsListeners()
    {
        Album renamed = AlbumAddress.Set(ExampleAlbum.Album, "Fog/Drums.name = Kit", PlainProcessors.Catalogue);
        Assert.Equal("Kit", AlbumAddress.Get(renamed, "Fog/Bass/compressor.key", PlainProcessors.Catalogue));
    }

    [Fact]
    public void AStemOfAnotherFileHasNoDigestUntilItIsTaken()
    {
        Album changed = AlbumAddress.Set(ExampleAlbum.Album, "Fog/Drums.file = Foghorn Waltz/Drums 2.wav", PlainProcessors.Catalogue);
        Assert.Equal(string.Empty, changed.Songs[0].Stems[1].Sha256);
    }
}
