using LiveStems.Analysis.Intake;
using LiveStems.Dsp;
using Xunit;

namespace LiveStems.Tests.Analysis.Intake;

public sealed class IntakeCheckTests : IDisposable
{
    private readonly Delivery delivery = new();

    public void Dispose() => delivery.Dispose();

    [Fact]
    public void CleanDeliveryHasNothingToAsk()
    {
        IntakeReport report = delivery.Check();
        Assert.False(report.HasStop);
        Assert.DoesNotContain(report.Findings, finding => finding.Rank != FindingRank.Note);
        MixComparison mix = report.Songs[0].Mix!;
        Assert.Equal(Decibels.FromAmplitude(0.8), mix.MedianGainDb, 0.01);

        // Five files of 24 bits, each rounded by 2⁻²⁴, leave −130 dB; transforms in single precision about −125 dB of the mix.
        Assert.True(mix.ResidualDb < -100, $"{mix.ResidualDb}");
    }

    [Theory]
    [InlineData(1)]
    [InlineData(-37)]
    [InlineData(480)]
    [InlineData(-3000)]
    public void DelayOfAStemIsFoundToTheSampleAndItsGainWithIt(int frames)
    {
        delivery.Stems[2] = Delivery.Late(delivery.Stems[2], frames);
        IntakeReport report = delivery.Check();
        IntakeFinding finding = Assert.Single(report.Findings, each => each.Kind == FindingKind.Delay);
        Assert.Equal("Keys", finding.Stem);
        Assert.Equal(frames, finding.Size, 0.01);
        Assert.Equal(Math.Abs(frames) >= 48 ? FindingRank.Stop : FindingRank.Look, finding.Rank);
        Assert.Contains($"{Math.Abs(frames)} sample", finding.Request, StringComparison.Ordinal);
        Assert.DoesNotContain(report.Findings, each => each.Kind == FindingKind.Gain);
    }

    // Clipped runs, clicks and gaps lie in one stem and not in the mix: their moments say nothing about the others.
    [Theory]
    [InlineData(-17)]
    [InlineData(299)]
    public void DamageInOneStemMovesNeitherTheDelayNorTheGainOfAnother(int frames)
    {
        delivery.Stems[0] = Delivery.Scaled(delivery.Stems[0], 0.1f, 0.1f);
        delivery.Stems[2] = Delivery.Late(delivery.Stems[2], frames);
        Random random = new(3);
        for (int place = 0; place < 6; place++)
        {
            delivery.Stems[0][place % 2].AsSpan(60_000 + 80_000 * place, random.Next(3, 20)).Fill(place % 2 == 0 ? 1 : -1);
            delivery.Stems[1][place % 2].AsSpan(90_000 + 80_000 * place, random.Next(8, 1500)).Clear();
            delivery.Stems[3][place % 2][70_000 + 80_000 * place] += 0.9f;
        }

        IntakeReport report = delivery.Check();
        MixComparison mix = report.Songs[0].Mix!;
        Assert.InRange(mix.LeftOutShare, 0.01, 0.5);
        Assert.Equal(frames, mix.Stems[2]!.LateFrames, 0.01);
        Assert.Equal(("Keys", frames), (Assert.Single(report.Findings, each => each.Kind == FindingKind.Delay).Stem, frames));
        IntakeFinding gain = Assert.Single(report.Findings, each => each.Kind == FindingKind.Gain);
        Assert.Equal(("Drums", -20), (gain.Stem, Math.Round(gain.Size, 1)));
        Assert.All(mix.Stems.Skip(1), stem => Assert.Equal(mix.MedianGainDb, stem!.GainDb, 0.1));
    }

    [Fact]
    public void SilentStemStopsNobodyWhenTheMixIsCompleteWithoutIt()
    {
        for (int side = 0; side < 2; side++)
        {
            for (int n = 0; n < delivery.Mix![side].Length; n++)
            {
                delivery.Mix[side][n] -= 0.8f * delivery.Stems[0][side][n];
            }
        }

        delivery.Stems[0] = [new float[delivery.Stems[0][0].Length], new float[delivery.Stems[0][0].Length]];
        IntakeReport report = delivery.Check();
        Assert.Contains(report.Findings, each => each is { Kind: FindingKind.Silence, Stem: "Drums", Rank: FindingRank.Look });
        Assert.False(report.HasStop);
    }

    [Theory]
    [InlineData(-1, -1, "is upside down against")]
    [InlineData(1, -1, "on the right only")]
    [InlineData(-1, 1, "on the left only")]
    public void InvertedStemOrSideStopsTheWork(int left, int right, string words)
    {
        delivery.Stems[1] = Delivery.Scaled(delivery.Stems[1], left, right);
        IntakeReport report = delivery.Check();
        IntakeFinding finding = Assert.Single(report.Findings, each => each.Kind == FindingKind.Polarity);
        Assert.Equal(("Bass", FindingRank.Stop), (finding.Stem, finding.Rank));
        Assert.Contains(words, finding.Text, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(-1.5)]
    [InlineData(0.3)]
    [InlineData(4)]
    public void GainErrorInTheSumIsFoundToATenthOfADecibel(double errorDb)
    {
        float gain = (float)Decibels.ToAmplitude(errorDb);
        delivery.Stems[0] = Delivery.Scaled(delivery.Stems[0], gain, gain);
        IntakeFinding finding = Assert.Single(delivery.Check().Findings, each => each.Kind == FindingKind.Gain);
        Assert.Equal("Drums", finding.Stem);
        Assert.Equal(errorDb, finding.Size, 0.1);
    }

    [Fact]
    public void StemThatIsNotInTheMixAndSoundThatIsInNoStemAreNamed()
    {
        delivery.Stems[3] = new Delivery(6) is { } other ? Padded(other) : [];
        IntakeReport report = delivery.Check();
        Assert.Contains(report.Findings, each => each is { Kind: FindingKind.ExtraStem, Stem: "Voice", Rank: FindingRank.Stop });
        Assert.Contains(report.Findings, each => each.Kind == FindingKind.MissingStem);
    }

    [Fact]
    public void SameSoundTwiceIsNoticed()
    {
        delivery.Stems[3] = delivery.Stems[1];
        delivery.Mix = null;
        IntakeReport report = delivery.Check();
        Assert.Contains(report.Findings, each => each is { Kind: FindingKind.Duplicate, Stem: "Voice" });
        Assert.False(report.HasStop);
    }

    [Fact]
    public void InvertedSideShowsWithoutARoughMixToo()
    {
        delivery.Mix = null;
        delivery.Stems[1] = Delivery.Scaled(delivery.Stems[1], 1, -1);
        Assert.Contains(delivery.Check().Findings, each => each is { Kind: FindingKind.Polarity, Stem: "Bass", Rank: FindingRank.Stop });
    }

    [Fact]
    public void DamageIsFoundWithItsPlace()
    {
        delivery.Stems[0][0].AsSpan(100_000, 300).Clear();
        delivery.Stems[1][1][200_000] += 0.9f;
        delivery.Stems[2][0].AsSpan(300_000, 5).Fill(1);
        delivery.Stems[3][0] = [.. delivery.Stems[3][0].Select(sample => sample + 0.01f)];
        IntakeReport report = delivery.Check();
        StemFacts[] facts = [.. report.Songs[0].Stems.Select(stem => stem.Facts!)];
        SoundEvent dropout = Assert.Single(facts[0].Dropouts.Places);
        Assert.Equal((100_000, 300, 0), (dropout.Frame, dropout.Frames, dropout.Channel));
        Assert.Equal(200_000, Assert.Single(facts[1].Clicks.Places).Frame);
        SoundEvent clipped = Assert.Single(facts[2].Clipping.Places);
        Assert.Equal((300_000, 5), (clipped.Frame, clipped.Frames));
        Assert.Equal(0.01, facts[3].Offset.Left, 1e-4);
        Assert.Contains(report.Findings, each => each is { Kind: FindingKind.Dropouts, Stem: "Drums", Rank: FindingRank.Stop, StartSeconds: 100_000.0 / Delivery.Rate });
        Assert.Contains(report.Findings, each => each is { Kind: FindingKind.DcOffset, Stem: "Voice" });
    }

    [Fact]
    public void FadesPausesAndStrokesAreNoDamage()
    {
        // Bursts that start at once and die away, with pauses of digital silence between them.
        Random random = new(5);
        foreach (float[] side in delivery.Stems[0])
        {
            Array.Clear(side);
            for (int stroke = 10_000; stroke < side.Length - 60_000; stroke += 24_000)
            {
                for (int n = 0; n < 20_000; n++)
                {
                    side[stroke + n] = 0.5f * (float)((2 * random.NextDouble() - 1) * Math.Exp(-n / 1200.0));
                }
            }
        }

        StemFacts facts = delivery.Check().Songs[0].Stems[0].Facts!;
        Assert.Equal(0, facts.Dropouts.Count);
        Assert.Equal(0, facts.Clicks.Count);
    }

    [Fact]
    public void SilentStemMonoStemAndUnusedBitsAreTold()
    {
        delivery.Stems[0] = [new float[delivery.Stems[0][0].Length], new float[delivery.Stems[0][0].Length]];
        delivery.Stems[1][1] = delivery.Stems[1][0];
        delivery.Stems[2] = [.. delivery.Stems[2].Select(side => side.Select(sample => MathF.Round(sample * 32_768) / 32_768).ToArray())];
        IntakeReport report = delivery.Check();
        Assert.Contains(report.Findings, each => each is { Kind: FindingKind.Silence, Stem: "Drums", Rank: FindingRank.Stop });
        Assert.Contains(report.Findings, each => each is { Kind: FindingKind.MonoInStereo, Stem: "Bass" });
        Assert.Contains(report.Findings, each => each is { Kind: FindingKind.BitDepth, Stem: "Keys", Size: 16 });
    }

    [Fact]
    public void ShortSoundIsCheckedForWhatItTells()
    {
        using Delivery brief = new(2);
        brief.Stems[1][0].AsSpan(40_000, 100).Clear();
        IntakeReport report = brief.Check();
        Assert.Null(report.Songs[0].Mix);
        Assert.Equal(5, report.Findings.Count(finding => finding.Kind == FindingKind.TooShort) - 1);
        Assert.Contains(report.Findings, each => each is { Kind: FindingKind.Dropouts, Stem: "Bass" });
    }

    [Fact]
    public void MissingFileIsAFindingAndTheRestIsChecked()
    {
        IntakeReport report = IntakeCheck.Run(
            [new IntakeSong("Song", [new IntakeFile("Gone", "/no/such/file.wav", false)])], null, CancellationToken.None);
        Assert.Contains(report.Findings, each => each is { Kind: FindingKind.Unreadable, Stem: "Gone", Rank: FindingRank.Stop });
    }

    private static float[][] Padded(Delivery other)
    {
        using (other)
        {
            // The other half of its length, backwards: sound of the same kind that the mix does not hold.
            return [.. other.Stems[3].Select(side => side.Reverse().Concat(side.Reverse().Select(sample => 0.7f * sample)).ToArray())];
        }
    }
}
