using System.Diagnostics;
using System.Text;
using LiveStems.Albums.Model;
using LiveStems.Analysis.Balance;
using LiveStems.Analysis.Papers;
using LiveStems.Dsp.Dither;
using LiveStems.Files.Writing;
using LiveStems.Processing.Catalogue;
using Xunit;

namespace LiveStems.Conformance.Papers;

/// <summary>The papers opened and printed by a browser that is not ours (headless Chromium).</summary>
public sealed class PaperInBrowserTests : IDisposable
{
    private const int Rate = 48_000;

    private readonly string folder = Directory.CreateTempSubdirectory("livestems-paper-").FullName;

    public void Dispose() => Directory.Delete(folder, recursive: true);

    [Theory]
    [InlineData(390)]
    [InlineData(1200)]
    public void ThePaperIsNoWiderThanThePhoneOrTheDesk(int width)
    {
        // The page tells its own width in its title once it is laid out.
        string page = Paper().Replace("</body>", "<script>document.title=document.documentElement.scrollWidth+' of '+innerWidth</script></body>", StringComparison.Ordinal);
        string seen = Browse(page, $"--window-size={width},900", "--dump-dom");
        string title = seen[(seen.IndexOf("<title>", StringComparison.Ordinal) + 7)..seen.IndexOf("</title>", StringComparison.Ordinal)];
        string[] widths = title.Split(" of ");
        Assert.True(int.Parse(widths[0]) <= int.Parse(widths[1]), $"the page is {title} pixels wide");
    }

    [Fact]
    public void ThePaperPrintsOnSeveralSheets()
    {
        string file = Path.Combine(folder, "paper.pdf");
        Browse(Paper(), $"--print-to-pdf={file}", "--no-pdf-header-footer");
        string printed = Encoding.Latin1.GetString(File.ReadAllBytes(file));
        Assert.StartsWith("%PDF-", printed, StringComparison.Ordinal);
        Assert.True(printed.Split("/Type /Page\n").Length - 1 + printed.Split("/Type /Page ").Length - 1 >= 3, "two songs start sheets of their own");
    }

    [Fact]
    public void ThePaperIsDrawnInBothCharts()
    {
        string file = Path.Combine(folder, "paper.png");
        Browse(Paper(), "--window-size=390,1600", $"--screenshot={file}");
        Assert.True(new FileInfo(file).Length > 20_000);
    }

    private string Browse(string page, params string[] arguments)
    {
        Prerequisite.Program("chromium");
        string html = Path.Combine(folder, "paper.html");
        File.WriteAllText(html, page);
        ProcessStartInfo start = new("chromium") { RedirectStandardOutput = true, RedirectStandardError = true };
        string[] quiet =
        [
            "--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking", "--disable-component-update",
            "--disable-sync", $"--user-data-dir={Path.Combine(folder, "profile")}",
        ];
        foreach (string argument in quiet.Concat(arguments).Append(new Uri(html).AbsoluteUri))
        {
            start.ArgumentList.Add(argument);
        }

        using Process browser = Process.Start(start)!;
        Task<string> errors = browser.StandardError.ReadToEndAsync(TestContext.Current.CancellationToken);
        string output = browser.StandardOutput.ReadToEnd();
        browser.WaitForExit();
        Assert.True(browser.ExitCode == 0, errors.Result);
        return output;
    }

    private string Paper()
    {
        Song[] songs = [SongOf("Rope & <Rain>", 1), SongOf("A Title That Is Rather Long For One Line On Any Telephone Of These Days", 2)];
        Album album = new("Slack Water Letters", "The Kelp Ledger", DeliveryTargets.Usual, [.. songs], []);
        AlbumBalance balance = AlbumBalance.Measure(album, folder, [0, 1], BuiltInProcessors.Catalogue, 2, null, TestContext.Current.CancellationToken);
        return AlbumPaper.Write(new PaperContents(album, balance, BuiltInProcessors.Catalogue, new DateOnly(2026, 3, 1)));
    }

    private Song SongOf(string title, ulong seed)
    {
        string file = $"{seed}.wav";
        float[] left = new float[5 * Rate];
        float[] right = new float[5 * Rate];
        new TriangularDither(8, seed).Process(left, right);
        using (WavWriter writer = new(Path.Combine(folder, file), new WavFormat(Rate, 24, false)))
        {
            writer.Write(left, right);
            writer.Complete();
        }

        Stem stem = new("Bass", file, string.Empty, StemRole.Bass, Placement.AsDelivered, Chain.Empty, [], []);
        return new Song(title, null, null, null, [stem], Chain.Empty, []);
    }
}
