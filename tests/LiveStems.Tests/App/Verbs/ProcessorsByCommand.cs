using System.Text.Json.Nodes;
using LiveStems.Engine.Hosting;
using LiveStems.Files.Writing;
using LiveStems.Tests.Engine.Hosting;
using LiveStems.Tests.Signals;
using Xunit;

namespace LiveStems.Tests.App.Verbs;

/// <summary>A folder of processors of others, its decisions, and an album of one stem beside it, by commands alone.</summary>
public abstract class ProcessorsByCommand : IDisposable
{
    protected const int SampleRate = 48_000;

    private readonly (string? Folder, string? Trust) before = (Environment.GetEnvironmentVariable(HostingPlaces.FolderVariable), Environment.GetEnvironmentVariable(HostingPlaces.TrustVariable));

    protected ProcessorsByCommand()
    {
        Environment.SetEnvironmentVariable(HostingPlaces.FolderVariable, Files.Places.Folder);
        Environment.SetEnvironmentVariable(HostingPlaces.TrustVariable, Files.Places.TrustFile);
    }

    private protected OutsideFiles Files { get; } = new();

    public void Dispose()
    {
        Environment.SetEnvironmentVariable(HostingPlaces.FolderVariable, before.Folder);
        Environment.SetEnvironmentVariable(HostingPlaces.TrustVariable, before.Trust);
        Files.Dispose();
        GC.SuppressFinalize(this);
    }

    protected string In(string name) => Path.Combine(Files.Root, name);

    protected static JsonNode Listed() => JsonNode.Parse(CommandLine.Run("processors", "--json").Output)!["assemblies"]![0]!;

    protected static string Listing() => CommandLine.Run("processors").Output;

    protected JsonArray Render(string folder)
    {
        CommandLine.Result render = CommandLine.Run("render", In("album"), "--out", In(folder), "--json");
        Assert.Equal((0, string.Empty), (render.ExitCode, render.Errors));
        return JsonNode.Parse(render.Output)!.AsArray();
    }

    protected JsonNode Slot() => JsonNode.Parse(File.ReadAllText(Path.Combine(In("album"), "album.json")))!["songs"]![0]!["stems"]![0]!["chain"]!["slots"]![0]!.DeepClone();

    protected void Import()
    {
        string stems = Path.Combine(In("stems"), "Song");
        Directory.CreateDirectory(stems);
        using (WavWriter writer = new(Path.Combine(stems, "Bass.wav"), new WavFormat(SampleRate, 24)))
        {
            float[] noise = Noise.White(3 * SampleRate, 6, 0.1f);
            writer.Write(noise, noise);
            writer.Complete();
        }

        Assert.Equal(0, CommandLine.Run("import", In("stems"), "--into", In("album"), "--title", "T").ExitCode);
    }
}
