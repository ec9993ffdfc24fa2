using LiveStems.View.Desk;
using Xunit;

namespace LiveStems.Tests.View.Desk;

public class SoundDoseTests
{
    // NIOSH, allowed time at a level (REFERENCES section 13, read from the CDC/NIOSH page): the table is the formula, so
    // only rounding is allowed for.
    [Theory]
    [InlineData(85, 8)]
    [InlineData(88, 4)]
    [InlineData(91, 2)]
    [InlineData(94, 1)]
    [InlineData(97, 0.5)]
    [InlineData(100, 0.25)]
    public void AWorkingDayAllowsWhatTheTableSays(double levelDbA, double hours)
    {
        // The table halves the time for 3 dB, energy for 3.0103 dB: 15 dB are 0.0515 dB beside, 1.2 %.
        Assert.Equal(hours, SoundDose.WorkingDay.AllowedHours(levelDbA), 0.012 * hours);
    }

    // WHO-ITU H.870, hours a week, computed as 40 · 10^(−(L − 80)/10) and rounded there (REFERENCES section 13).
    [Theory]
    [InlineData(80, 40)]
    [InlineData(83, 20.0)]
    [InlineData(86, 10.0)]
    [InlineData(89, 5.04)]
    [InlineData(92, 2.52)]
    [InlineData(95, 1.26)]
    [InlineData(98, 0.634)]
    [InlineData(100, 0.4)]
    public void AWeekAllowsWhatTheStandardSays(double levelDbA, double hours) =>
        Assert.Equal(hours, SoundDose.Week.AllowedHours(levelDbA), 0.005 * hours);

    [Theory]
    [InlineData(75, 40)]
    [InlineData(85, 4)]
    [InlineData(95, 0.4)]
    public void SensitiveEarsAreAllowedLess(double levelDbA, double hours) =>
        Assert.Equal(hours, SoundDose.SensitiveWeek.AllowedHours(levelDbA), 0.003 * hours);

    // H.870 states the doses as 1.6 and 0.506 Pa²h.
    [Fact]
    public void TheDosesAreTheEnergiesOfTheStandard()
    {
        Assert.Equal(1.6, SoundDose.Week.AllowedPascalSquaredHours, 1e-9);
        Assert.Equal(0.506, SoundDose.SensitiveWeek.AllowedPascalSquaredHours, 5e-4);
    }

    [Fact]
    public void PartsOfADayAddUp()
    {
        double sum = SoundDose.WorkingDay.Percent(85, 4) + SoundDose.WorkingDay.Percent(88.0103, 2);
        Assert.Equal(100, sum, 0.01);
        Assert.Equal(sum, SoundDose.WorkingDay.Percent((SoundDose.PascalSquared(85) * 4) + (SoundDose.PascalSquared(88.0103) * 2)), 1e-9);
    }

    // IEC 61672-1 table 3, rounded to 0.1 dB there (from memory).
    [Theory]
    [InlineData(31.622776601, -39.4)]
    [InlineData(63.095734448, -26.2)]
    [InlineData(125.892541179, -16.1)]
    [InlineData(251.188643151, -8.6)]
    [InlineData(501.187233627, -3.2)]
    [InlineData(1000, 0)]
    [InlineData(1995.262314969, 1.2)]
    [InlineData(3981.071705535, 1.0)]
    [InlineData(7943.282347243, -1.1)]
    [InlineData(15848.931924611, -6.6)]
    public void TheAWeightingIsThatOfTheStandard(double frequencyHz, double gainDb) =>
        Assert.Equal(gainDb, AWeighting.GainDb(frequencyHz), 0.051);
}
