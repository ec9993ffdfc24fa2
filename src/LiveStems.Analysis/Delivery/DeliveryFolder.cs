using System.Text.Json;
using System.Text.Json.Serialization;
using LiveStems.Albums.Storage;

namespace LiveStems.Analysis.Delivery;

/// <summary>
/// One delivery's folder, "Delivery 3". While it is being filled it is called "Delivery 3 (under way)" and carries a small
/// record of what was ordered and what has passed, so that a run that was killed is taken up where it stopped. It gets its
/// name when all is in it; from then on it is never written to again.
/// </summary>
internal sealed class DeliveryFolder : IDisposable
{
    private const string RecordName = ".under-way.json";
    private const string HoldName = ".held";
    private const string UnderWay = " (under way)";
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
    private readonly FileStream hold;

    private DeliveryFolder(string path, int number, string order, DateOnly date, List<DeliveredFile> files, FileStream hold)
    {
        this.hold = hold;
        Path = path;
        Number = number;
        Date = date;
        this.order = order;
        this.files = files;
    }

    /// <summary>The folder while it is being filled.</summary>
    public string Path { get; }

    /// <summary>The folder as it is called in the end.</summary>
    public string FinishedPath => System.IO.Path.Combine(System.IO.Path.GetDirectoryName(Path)!, $"{Prefix}{Number}");

    /// <summary>Deliveries beside it that are under way with another order, or with the album as it was.</summary>
    public IReadOnlyList<string> OthersUnderWay =>
        [.. Directory.EnumerateDirectories(System.IO.Path.GetDirectoryName(Path)!, $"{Prefix}*{UnderWay}").Where(folder => folder != Path).Order(StringComparer.Ordinal)];

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
        root = System.IO.Path.GetFullPath(root);
        Directory.CreateDirectory(root);
        int highest = 0;
        foreach (string folder in Directory.EnumerateDirectories(root, Prefix + "*"))
        {
            string name = System.IO.Path.GetFileName(folder)[Prefix.Length..];
            if (!int.TryParse(name.Replace(UnderWay, string.Empty, StringComparison.Ordinal), out int number))
            {
                continue;
            }

            highest = Math.Max(highest, number);
            if (Read(System.IO.Path.Combine(folder, RecordName)) is { } record && record.Order == order)
            {
                FileStream hold = Hold(folder);
                RemoveLeftovers(folder);
                return new DeliveryFolder(folder, number, order, record.Date, [.. record.Files], hold);
            }
        }

        RemoveUnbegun(root);
        return Begin(root, highest + 1, order, date);
    }

    // The folder appears with its record in it, or not at all: without one nobody would take it up again.
    private static DeliveryFolder Begin(string root, int number, string order, DateOnly date)
    {
        string unbegun = System.IO.Path.Combine(root, $"{Unbegun}{Guid.NewGuid():N}");
        Directory.CreateDirectory(unbegun);
        Write(unbegun, new Record(order, date, []));
        string path = System.IO.Path.Combine(root, $"{Prefix}{number}{UnderWay}");
        if (Directory.Exists(path))
        {
            Directory.Delete(unbegun, recursive: true);
            return Begin(root, number + 1, order, date);
        }

        Directory.Move(unbegun, path);
        return new DeliveryFolder(path, number, order, date, [], Hold(path));
    }

    // Two runs of one order would write the same files: the second is told. The system lets go of it when a run is killed.
    private static FileStream Hold(string folder)
    {
        try
        {
            return new FileStream(System.IO.Path.Combine(folder, HoldName), FileMode.OpenOrCreate, FileAccess.ReadWrite, FileShare.None, 1, FileOptions.DeleteOnClose);
        }
        catch (IOException) when (File.Exists(System.IO.Path.Combine(folder, HoldName)))
        {
            throw new DeliveryException($"{folder}: another run is making this very delivery; wait for it, or stop it and give the order again");
        }
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
            files.RemoveAll(noted => noted.Name == file.Name);
            files.Add(file);
            Write(Path, new Record(order, Date, files));
        }
    }

    /// <summary>Closes the delivery: it gets its name, and from now on nothing is added.</summary>
    /// <exception cref="IOException">It can't be given its name; the next run of the order tries again.</exception>
    public void Close()
    {
        hold.Dispose();
        if (Path != FinishedPath)
        {
            Directory.Move(Path, FinishedPath);
        }

        File.Delete(System.IO.Path.Combine(FinishedPath, RecordName));
    }

    /// <summary>Removes all of it: a delivery that was refused leaves nothing that could be taken for one.</summary>
    public void Discard()
    {
        hold.Dispose();
        if (Path != FinishedPath)
        {
            Directory.Delete(Path, recursive: true);
        }
    }

    /// <summary>Lets go of it, for another run to take up.</summary>
    public void Dispose() => hold.Dispose();

    // What a killed run was at stands under names that begin with a dot.
    private static void RemoveLeftovers(string folder)
    {
        foreach (string path in Directory.EnumerateFiles(folder, ".*", SearchOption.AllDirectories))
        {
            if (System.IO.Path.GetFileName(path) is not (RecordName or HoldName))
            {
                File.Delete(path);
            }
        }
    }

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

    private static void Write(string folder, Record record) =>
        SafeFile.Replace(System.IO.Path.Combine(folder, RecordName), JsonSerializer.SerializeToUtf8Bytes(record, Form));

    private sealed record Record(string Order, DateOnly Date, IReadOnlyList<DeliveredFile> Files);
}
