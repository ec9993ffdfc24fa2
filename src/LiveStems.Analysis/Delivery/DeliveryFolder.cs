using System.Text.Json;
using System.Text.Json.Serialization;

namespace LiveStems.Analysis.Delivery;

/// <summary>
/// One delivery's folder, "Delivery 3". While it is being filled it carries a small record of what was ordered and what
/// has passed, so that a run that was killed is taken up where it stopped; a finished one is never written to again.
/// </summary>
internal sealed class DeliveryFolder
{
    private const string RecordName = ".under-way.json";
    private const string Prefix = "Delivery ";
    private const string Unbegun = ".unbegun ";

    private static readonly JsonSerializerOptions Form = new()
    {
        WriteIndented = true,
        NumberHandling = JsonNumberHandling.AllowNamedFloatingPointLiterals,
        Converters = { new JsonStringEnumConverter() },
    };

    private readonly Lock gate = new();
    private readonly string order;
    private readonly List<DeliveredFile> files;

    private DeliveryFolder(string path, int number, string order, DateOnly date, List<DeliveredFile> files)
    {
        Path = path;
        Number = number;
        Date = date;
        this.order = order;
        this.files = files;
    }

    /// <summary>The folder.</summary>
    public string Path { get; }

    /// <summary>Number of the delivery, from 1.</summary>
    public int Number { get; }

    /// <summary>The date its files tell: that of its first run.</summary>
    public DateOnly Date { get; }

    /// <summary>What has passed.</summary>
    public IReadOnlyList<DeliveredFile> Files
    {
        get
        {
            lock (gate)
            {
                return [.. files];
            }
        }
    }

    /// <summary>The folder of an order: the one that was under way with the same order, else the next number.</summary>
    /// <param name="root">Where deliveries stand.</param>
    /// <param name="order">All that decides the bytes of the files.</param>
    /// <param name="date">Date of a new delivery.</param>
    /// <exception cref="DeliveryException">The folder can't be made or written to.</exception>
    public static DeliveryFolder Open(string root, string order, DateOnly date)
    {
        try
        {
            return OpenOrBegin(root, order, date);
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            throw new DeliveryException($"{root}: can't be written to ({fault.Message.TrimEnd('.')}); give --out another folder, or see who may write there and how much room is left");
        }
    }

    private static DeliveryFolder OpenOrBegin(string root, string order, DateOnly date)
    {
        Directory.CreateDirectory(root);
        int highest = 0;
        foreach (string folder in Directory.EnumerateDirectories(root, Prefix + "*"))
        {
            if (!int.TryParse(System.IO.Path.GetFileName(folder)[Prefix.Length..], out int number))
            {
                continue;
            }

            highest = Math.Max(highest, number);
            if (Read(System.IO.Path.Combine(folder, RecordName)) is { } record && record.Order == order)
            {
                RemoveLeftovers(folder);
                List<DeliveredFile> whole = [.. record.Files.Where(file => IsWhole(System.IO.Path.Combine(folder, file.Name), file))];
                return new DeliveryFolder(folder, number, order, record.Date, whole);
            }
        }

        RemoveUnbegun(root);
        return Begin(root, highest + 1, order, date);
    }

    // The folder appears under its name with its record in it, or not at all: without one nobody would take it up again.
    private static DeliveryFolder Begin(string root, int number, string order, DateOnly date)
    {
        string unbegun = System.IO.Path.Combine(root, $"{Unbegun}{Guid.NewGuid():N}");
        Directory.CreateDirectory(unbegun);
        new DeliveryFolder(unbegun, number, order, date, []).Write();
        string path = System.IO.Path.Combine(root, $"{Prefix}{number}");
        if (Directory.Exists(path))
        {
            Directory.Delete(unbegun, recursive: true);
            return Begin(root, number + 1, order, date);
        }

        Directory.Move(unbegun, path);
        return new DeliveryFolder(path, number, order, date, []);
    }

    private static void RemoveUnbegun(string root)
    {
        foreach (string left in Directory.EnumerateDirectories(root, Unbegun + "*").Where(left => Directory.GetLastWriteTimeUtc(left) < DateTime.UtcNow.AddMinutes(-1)))
        {
            Directory.Delete(left, recursive: true);
        }
    }

    /// <summary>Notes a file that passed; it stands under its name already.</summary>
    public void Add(DeliveredFile file)
    {
        lock (gate)
        {
            files.Add(file);
            Write();
        }
    }

    /// <summary>Closes the delivery: from now on nothing is added.</summary>
    public void Close() => File.Delete(System.IO.Path.Combine(Path, RecordName));

    // What a killed run was at stands under names that begin with a dot.
    private static void RemoveLeftovers(string folder)
    {
        foreach (string path in Directory.EnumerateFiles(folder, ".*", SearchOption.AllDirectories))
        {
            if (System.IO.Path.GetFileName(path) != RecordName)
            {
                File.Delete(path);
            }
        }
    }

    private static bool IsWhole(string path, DeliveredFile file) => File.Exists(path) && new FileInfo(path).Length == file.Bytes;

    private static Record? Read(string path)
    {
        try
        {
            return File.Exists(path) ? JsonSerializer.Deserialize<Record>(File.ReadAllBytes(path), Form) : null;
        }
        catch (JsonException)
        {
            return null;
        }
    }

    private void Write()
    {
        string path = System.IO.Path.Combine(Path, RecordName);
        File.WriteAllBytes(path + ".part", JsonSerializer.SerializeToUtf8Bytes(new Record(order, Date, files), Form));
        File.Move(path + ".part", path, overwrite: true);
    }

    private sealed record Record(string Order, DateOnly Date, IReadOnlyList<DeliveredFile> Files);
}
