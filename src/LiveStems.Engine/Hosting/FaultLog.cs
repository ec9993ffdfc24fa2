using System.Text.Json;
using LiveStems.Albums.Storage;
using LiveStems.Engine.Planning;

namespace LiveStems.Engine.Hosting;

/// <summary>What processors of others have done wrong in all runs of the program, by id; for people, nothing depends on it.</summary>
public static class FaultLog
{
    private static readonly JsonSerializerOptions Form = new() { WriteIndented = true, PropertyNamingPolicy = JsonNamingPolicy.CamelCase };

    /// <summary>All that is kept; empty when there is nothing or it cannot be read.</summary>
    public static IReadOnlyDictionary<string, ProcessorFaults> Load(HostingPlaces places)
    {
        try
        {
            return File.Exists(places.FaultFile)
                ? JsonSerializer.Deserialize<Dictionary<string, ProcessorFaults>>(File.ReadAllBytes(places.FaultFile), Form) ?? []
                : [];
        }
        catch (Exception fault) when (fault is JsonException or IOException or UnauthorizedAccessException)
        {
            return new Dictionary<string, ProcessorFaults>();
        }
    }

    /// <summary>Adds what went wrong in one run. Where it cannot be kept it is let go: it has been told already.</summary>
    public static void Add(HostingPlaces places, IEnumerable<OutsideUse> uses, DateTimeOffset now)
    {
        OutsideUse[] faulty = [.. uses.Where(use => use.Faults > 0)];
        if (faulty.Length == 0)
        {
            return;
        }

        Dictionary<string, ProcessorFaults> all = new(Load(places), StringComparer.Ordinal);
        foreach (OutsideUse use in faulty)
        {
            ProcessorFaults so = all.GetValueOrDefault(use.Processor) ?? new ProcessorFaults(0, 0, null, now);
            all[use.Processor] = new ProcessorFaults(so.Faults + use.Faults, so.FramesLost + use.FramesLost, use.LastFault ?? so.LastFault, now);
        }

        try
        {
            Directory.CreateDirectory(Path.GetDirectoryName(places.FaultFile)!);
            SafeFile.Replace(places.FaultFile, JsonSerializer.SerializeToUtf8Bytes(all, Form));
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            // Read-only settings: the sound does not depend on it.
        }
    }
}

/// <summary>What one processor has done wrong so far.</summary>
/// <param name="Faults">Times that it was passed by or the dry sound had to stand in for it.</param>
/// <param name="FramesLost">Frames that were heard without it for that reason.</param>
/// <param name="LastFault">What it did last, in words.</param>
/// <param name="LastAt">When.</param>
public sealed record ProcessorFaults(long Faults, long FramesLost, string? LastFault, DateTimeOffset LastAt);
