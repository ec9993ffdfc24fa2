using LiveStems.App.Quick;
using LiveStems.App.Verbs;
using Xunit;

namespace LiveStems.Tests.App.Quick;

public sealed class QuickProgramTests : IDisposable
{
    private readonly string folder = Directory.CreateTempSubdirectory("livestems-tests-").FullName;

    [Theory]
    [InlineData("render Album --out Masters")]
    [InlineData("render --help")]
    [InlineData("measure one.wav --json")]
    [InlineData("set Album 1/bass/gain=-1")]
    [InlineData("render Album --out --stemsy")]
    public void CommandsThatReadReckonAndWriteAreItsOwn(string command) =>
        Assert.True(QuickProgram.CanRun(command.Split(' '), folder));

    [Theory]
    [InlineData("open Album")]
    [InlineData("play Album")]
    [InlineData("--help")]
    [InlineData("processors")]
    [InlineData("measure one.wav --picture one.png")]
    [InlineData("measure one.wav --picture=one.png")]
    [InlineData("render Album --out Deliveries --format disc")]
    [InlineData("render Album --out Deliveries --stems")]
    [InlineData("render @arguments.txt")]
    public void WhatPlaysDrawsOrDeliversIsForTheWholeProgram(string command) =>
        Assert.False(QuickProgram.CanRun(command.Split(' '), folder));

    [Fact]
    public void NothingAtAllIsForTheWholeProgram() => Assert.False(QuickProgram.CanRun([], folder));

    [Fact]
    public void WhereProcessorsOfOthersLieTheWholeProgramRuns()
    {
        File.WriteAllText(Path.Combine(folder, "Other.dll"), string.Empty);
        Assert.False(QuickProgram.CanRun(["render", "Album", "--out", "Masters"], folder));
        Assert.True(QuickProgram.CanRun(["render", "Album", "--out", "Masters"], Path.Combine(folder, "none")));
    }

    [Fact]
    public void EveryCommandOfItsOwnIsOneOfTheProgram()
    {
        string[] verbs = [.. AllVerbs.Create(CancellationToken.None).Subcommands.Select(verb => verb.Name)];
        Assert.All(QuickProgram.Verbs, verb => Assert.Contains(verb, verbs));
    }

    public void Dispose() => Directory.Delete(folder, recursive: true);
}
